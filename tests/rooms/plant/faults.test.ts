import { expect, test } from 'vitest';
import { FAULTS, type Fault } from '../../../src/plant/index.ts';
import { advance, applyHand, createModel } from '../../../src/plant/model/index.ts';
import { at, INJECT, run, type Script } from './script.ts';

const RAMP: Script = [
  ...INJECT,
  [12, { do: 'step', machine: 'E1', percent: 86 }],
  [14, { do: 'ramp', machine: 'E1', percent: 70, rate: 2 }],
  [30, { do: 'step', machine: 'E1', percent: 100 }],
  [34, { do: 'reset', machine: 'E1' }],
];
const end = (fault: Fault, script: Script = RAMP) => at(run(script, 37, fault), 37);
const mid = (fault: Fault, t: number, script: Script = RAMP) => at(run(script, 37, fault), t);

const TRIED: readonly (readonly [Fault, () => void])[] = [
  ['wrong-set-point', () => expect(mid('wrong-set-point', 18.2)['E1.tripped']).toBe(0)],
  [
    'wrong-scale',
    () =>
      expect(
        mid('wrong-scale', 29, [
          [9, { do: 'probe-out', machine: 'E1' }],
          [9, { do: 'heat', machine: 'E1', to: 85, rate: 5 }],
        ])['E1.tripped'],
      ).toBe(0),
  ],
  [
    'shutdown-not-wired',
    () =>
      expect(mid('shutdown-not-wired', 29)).toMatchObject({
        'E1.tripped': 1,
        'E1.run-command': 0,
        'E1.motor-running': 1,
      }),
  ],
  ['alarm-missing', () => expect(mid('alarm-missing', 29)).toMatchObject({ 'E1.horn': 0, 'E1.tripped': 1 })],
  ['delay-too-long', () => expect(mid('delay-too-long', 19)['E1.tripped']).toBe(0)],
  [
    'releases-on-recovery',
    () => expect(mid('releases-on-recovery', 33)).toMatchObject({ 'E1.tripped': 0, 'E1.run-command': 1 }),
  ],
  [
    'another-machine-trips',
    () => expect(mid('another-machine-trips', 29)).toMatchObject({ 'E1.tripped': 0, 'C2.tripped': 1 }),
  ],
  [
    'bypass-left-on',
    () => expect(mid('bypass-left-on', 29)).toMatchObject({ 'E1.bypass': 1, 'E1.tripped': 0 }),
  ],
  ['auto-restart', () => expect(end('auto-restart')).toMatchObject({ 'E1.tripped': 0, 'E1.run-command': 1 })],
  [
    'normal-learned-slipping',
    () => expect(mid('normal-learned-slipping', 9)['E1.normal-speed']).toBeLessThan(84),
  ],
  [
    'cascade-missing',
    () => expect(mid('cascade-missing', 29)).toMatchObject({ 'E1.motor-running': 0, 'F1.motor-running': 1 }),
  ],
  [
    'alignment-stop-missing',
    () =>
      expect(
        mid('alignment-stop-missing', 20, [[10, { do: 'screw', machine: 'E1', turned: true }]]),
      ).toMatchObject({ 'E1.alignment-alarm': 1, 'E1.tripped': 0 }),
  ],
  [
    'motor-runs-on',
    () => {
      expect(mid('motor-runs-on', 29)).toMatchObject({ 'E1.tripped': 1, 'E1.motor-running': 0 });
      expect(mid('motor-runs-on', 29)['E1.head-speed']).toBeGreaterThan(95);
    },
  ],
];

test.each(TRIED)('fault %s changes what it says', (_fault, check) => check());

test('every fault of the list is tried above', () => {
  expect(new Set(TRIED.map(([fault]) => fault))).toEqual(new Set(Object.keys(FAULTS)));
});

test('without a fault none of this is so', () => {
  const samples = run(RAMP, 37);
  expect(at(samples, 18.2)).toMatchObject({ 'E1.tripped': 1, 'C2.tripped': 0, 'E1.bypass': 0 });
  expect(at(samples, 29)).toMatchObject({ 'E1.horn': 1, 'E1.motor-running': 0, 'F1.motor-running': 0 });
  expect(at(samples, 29)['E1.head-speed']).toBe(0);
  expect(at(samples, 33)).toMatchObject({ 'E1.tripped': 1, 'E1.run-command': 0 });
  expect(at(samples, 37)).toMatchObject({ 'E1.tripped': 0, 'E1.run-command': 0 });
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

test.each(Object.keys(FAULTS) as Fault[])('%s is undone by a repair', (fault) => {
  const script: Script = [
    [0.1, { do: 'program-change', fault }],
    [0.2, { do: 'program-change', fault: 'none' }],
  ];
  const untouched: Script = [
    [0.1, { do: 'state' }],
    [0.2, { do: 'state' }],
  ];
  expect(at(run([...script, ...RAMP], 37), 37)).toEqual({
    ...at(run([...untouched, ...RAMP], 37), 37),
    'E1.revision': 43,
    'C2.revision': 43,
  });
});
