import { expect, test } from 'vitest';
import { FAULTS, type Fault } from '../../../src/plant/index.ts';
import { advance, applyHand, createModel } from '../../../src/plant/model/index.ts';
import { TRIED } from './fault-table.ts';
import { at, INJECT, run, type Script, truthAfter } from './script.ts';

const NAMES = Object.keys(FAULTS) as Fault[];

test.each(NAMES)('%s changes what the plant does, and a sound plant does it right', (fault) => {
  const [script, until, see, sound, planted] = TRIED[fault];
  expect(planted).not.toEqual(sound);
  expect(see(run(script, until), truthAfter(script, until))).toEqual(sound);
  expect(see(run(script, until, fault), truthAfter(script, until, fault))).toEqual(planted);
});

test('a trip that is not latched goes with its cause, whatever the cause was', () => {
  for (const script of [
    [
      [10, { do: 'screw', machine: 'E1', turned: true }],
      [15, { do: 'screw', machine: 'E1', turned: false }],
    ],
    [
      [9, { do: 'probe-out', machine: 'E1' }],
      [9, { do: 'heat', machine: 'E1', to: 85, rate: 40 }],
      [14, { do: 'heat', machine: 'E1', to: 40, rate: 40 }],
    ],
  ] as const satisfies Script[]) {
    const samples = run(script, 20, 'releases-on-recovery');
    expect(at(samples, 13.9)).toMatchObject({ 'E1.tripped': 1, 'E1.run-command': 0 });
    expect(at(samples, 20)).toMatchObject({ 'E1.tripped': 0, 'E1.run-command': 1 });
    expect(at(run(script, 20), 20)).toMatchObject({ 'E1.tripped': 1, 'E1.run-command': 0 });
  }
});

test('every fault is told in one sentence, which says what is wrong with what', () => {
  expect(NAMES.length).toBeGreaterThanOrEqual(40);
  expect(new Set(Object.values(FAULTS)).size).toBe(NAMES.length);
  for (const [name, text] of Object.entries(FAULTS)) {
    expect(name.length).toBeLessThan(26);
    expect(text).toMatch(/leg 1|feeder|controller/);
    expect(text.length).toBeLessThan(120);
  }
});

test('a change of program is shown as a new revision, and can be taken back', () => {
  const model = createModel({ seed: 1 });
  const revision = () => {
    advance(model, 100_000);
    return model.image['E1.revision'];
  };
  const first = revision()!;
  applyHand(model, { do: 'program-change', fault: 'bypass-left-on' });
  expect(revision()).toBe(first + 1);
  expect(model.image['E1.bypass']).toBe(1);
  applyHand(model, { do: 'program-change', fault: 'none' });
  expect(revision()).toBe(first + 2);
  expect(model.image['E1.bypass']).toBe(0);
});

/** Every kind of cause, a power cut and a lost rack, after which a plant that was put right is as it ever was. */
const ALL_HANDS: Script = [
  ...INJECT,
  [12, { do: 'step', machine: 'E1', percent: 86 }],
  [14, { do: 'ramp', machine: 'E1', percent: 70, rate: 2 }],
  [30, { do: 'step', machine: 'E1', percent: 100 }],
  [34, { do: 'reset', machine: 'E1' }],
  [35, { do: 'start', machine: 'E1' }],
  [36, { do: 'start', machine: 'F1' }],
  [42, { do: 'screw', machine: 'E1', turned: true }],
  [45, { do: 'screw', machine: 'E1', turned: false }],
  [46, { do: 'power-cycle' }],
  [49, { do: 'reset', machine: 'E1' }],
  [50, { do: 'warned-start', machine: 'E1' }],
];
const END = 58;
const LOOKS = [3, 9, 13, 18.2, 29, 37, 44, 48, 53, END];

const shown = (between: Script, without: RegExp) => {
  const samples = run([...between, ...ALL_HANDS], END);
  return LOOKS.map((t) => Object.entries(at(samples, t)).filter(([signal]) => !without.test(signal)));
};

const UNTOUCHED: Script = [
  [0.1, { do: 'state' }],
  [0.2, { do: 'state' }],
];
/** The same for every fault that shows as much: played once. */
const untouched = new Map<RegExp, ReturnType<typeof shown>>();
const shownUntouched = (without: RegExp) => {
  const played = untouched.get(without) ?? shown(UNTOUCHED, without);
  untouched.set(without, played);
  return played;
};

const REVISION = /\.revision$/;
/** Cycles that were never done are not counted afterwards, and the last pulse before them was seen later. */
const COUNTS = /\.(revision|heartbeat)$/;

test.each(NAMES)('%s is undone by a repair', (fault) => {
  const without = fault === 'scan-overrun' ? COUNTS : REVISION;
  const changed: Script = [
    [0.1, { do: 'program-change', fault }],
    [0.2, { do: 'program-change', fault: 'none' }],
  ];
  expect(shown(changed, without)).toEqual(shownUntouched(without));
});
