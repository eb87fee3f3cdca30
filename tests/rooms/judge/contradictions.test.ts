/** Contradictions that are watched always, with no window open; each beside the same plant without it. */
import { expect, test } from 'vitest';
import type { Finding } from '../../../src/judge/index.ts';
import type { Machine } from '../../../src/rulebook/index.ts';
import { at, bookOf, effect, HEALTHY, idOf, type Plant, S, sample, underspeed, watched } from './rig.ts';

const MACHINE: Partial<Machine> = {
  feedbacks: [{ signal: idOf('running'), state: 1 }],
  motions: [idOf('head')],
  normals: [
    {
      signal: idOf('speed'),
      from: { kind: 'declared', value: { low: 96, high: 96 } },
      nameplate: { low: 96, high: 96 },
      allowance: 0.05,
    },
    {
      signal: idOf('head'),
      from: { kind: 'declared', value: { low: 96, high: 96 } },
      nameplate: { low: 96, high: 96 },
      allowance: 0.05,
    },
  ],
  silences: [{ signal: idOf('silence'), state: 1 }],
  bypassLimit: 10 * S,
  stopsWithin: 5 * S,
  constants: [idOf('setting')],
};

const ALARM = underspeed({
  name: 'E1.underspeed-alarm',
  cause: {
    kind: 'level',
    signal: idOf('speed'),
    side: 'below',
    setPoint: { of: 'normal', factor: 0.9, offset: 0 },
    tolerance: { of: 'normal', factor: 0.015, offset: 0 },
    clears: { of: 'normal', factor: 0.93, offset: 0 },
  },
  effects: [effect('horn', 1, 1 * S, { class: 'alarm' })],
});

const told = (plant: Plant, to = 40, marks: Parameters<typeof watched>[2] = []): Finding[] => {
  const rows = sample({ ...HEALTHY, ...plant }, { from: 0, to, every: 0.1, phase: 0.03 });
  const book = bookOf([underspeed(), ALARM], { machine: MACHINE });
  return watched(book, rows, marks).filter(({ kind }) => kind === 'contradiction');
};

const codesOf = (plant: Plant, to?: number, marks?: Parameters<typeof watched>[2]): string[] =>
  told(plant, to, marks).flatMap((one) => (one.kind === 'contradiction' ? [one.reason.code] : []));

const from =
  (when: number, before: number, after: number) =>
  (t: number): number =>
    t < when ? before : after;
const pulse =
  (on: number, off: number, rest = 0) =>
  (t: number): number =>
    t >= on && t < off ? 1 - rest : rest;

/** A sound stop on slip at 10 s: speed falls, horn, trip, command and feedback drop, the shafts come to rest. */
const SOUND: Plant = {
  speed: (t) => (t < 10 ? 96 : Math.max(0, 70 - Math.max(0, t - 12) * 40)),
  head: (t) => (t < 12 ? 96 : Math.max(0, 96 - (t - 12) * 40)),
  horn: from(10.2, 0, 1),
  tripped: from(11.1, 0, 1),
  run: from(11.1, 1, 0),
  running: from(11.2, 1, 0),
};

test('a healthy plant and a sound stop contradict nothing', () => {
  expect(codesOf({})).toEqual([]);
  expect(codesOf(SOUND)).toEqual([]);
});

test('a cause with no effect at all is dangerous, and is told once, as soon as the last deadline is past', () => {
  const found = told({ speed: from(10, 96, 70) });
  expect(found.map((one) => one.kind === 'contradiction' && [one.reason.code, one.dangerous])).toEqual([
    ['cause-without-effect', true],
    ['cause-without-effect', true],
  ]);
  expect((found[0]?.at ?? 0) - at(10)).toBeLessThan(1.5 * S);
  expect(codesOf({ speed: from(10, 96, 70), bypass: () => 1 })).not.toContain('cause-without-effect');
});

test('alarm without stop', () => {
  expect(codesOf({ speed: from(10, 96, 70), horn: from(10.2, 0, 1) })).toContain('cause-without-effect');
  expect(codesOf({ ...SOUND, run: () => 1, running: () => 1 })).toEqual(['effect-left-out']);
});

test('an output that acts without a cause, before its cause, or for a cause on another machine', () => {
  expect(codesOf({ tripped: from(20, 0, 1), running: from(20, 1, 0), head: from(20, 96, 0) })).toEqual([
    'acted-without-cause',
  ]);
  expect(codesOf({ speed: from(15, 96, 87), tripped: from(20, 0, 1), horn: from(15.2, 0, 1) })).toEqual([
    'acted-without-cause',
  ]);
});

test('a stop that nobody pressed and no cause explains; a stop button explains it', () => {
  const stopped: Plant = {
    run: from(20, 1, 0),
    running: from(20.2, 1, 0),
    head: from(21, 96, 0),
    speed: from(21, 96, 0),
  };
  expect(codesOf(stopped)).toEqual(['acted-without-cause']);
  expect(codesOf({ ...stopped, stop: pulse(19.8, 20.3) })).toEqual([]);
});

test('the command is off, and the motor or the shaft goes on', () => {
  expect(codesOf({ ...SOUND, running: () => 1 })).toContain('runs-without-command');
  expect(codesOf({ ...SOUND, head: () => 96 })).toEqual(['runs-without-command']);
});

test('a trip that goes away by itself, and a machine that runs again by itself; the buttons explain both', () => {
  const back: Plant = {
    ...SOUND,
    tripped: (t) => (t >= 11.1 && t < 20 ? 1 : 0),
    speed: (t) => (t < 20 ? (SOUND.speed?.(t) ?? 0) : 96),
  };
  expect(codesOf(back)).toEqual(['trip-gone-without-reset']);
  expect(codesOf({ ...back, reset: pulse(19.8, 20.3) })).toEqual([]);
  const again: Plant = {
    ...back,
    reset: pulse(19.8, 20.3),
    run: (t) => (t >= 11.1 && t < 21 ? 0 : 1),
    running: (t) => (t >= 11.2 && t < 21.2 ? 0 : 1),
    head: (t) => (t < 21 ? (SOUND.head?.(t) ?? 0) : 96),
  };
  expect(codesOf(again)).toEqual(['ran-again-without-start']);
  expect(codesOf({ ...again, start: pulse(20.6, 21.1) })).toEqual([]);
});

test('a stop without its alarm', () => {
  expect(codesOf({ ...SOUND, horn: () => 0 })).toContain('stop-without-alarm');
});

test('a horn that was silenced before it was told to sound', () => {
  expect(codesOf({ ...SOUND, silence: () => 1 })).toEqual(['alarm-silenced-before']);
  expect(codesOf({ ...SOUND, silence: from(15, 0, 1) })).toEqual([]);
});

test('a bypass that lasts for too long', () => {
  expect(codesOf({ bypass: pulse(5, 14) })).toEqual([]);
  expect(codesOf({ bypass: pulse(5, 16) })).toEqual(['bypass-too-long']);
});

test('a set point that changes without a record, and one with', () => {
  const changed: Plant = { setting: from(20, 78, 60) };
  expect(codesOf(changed)).toEqual(['setting-unrecorded']);
  const mark = { code: 'revision', at: at(15), machine: 0, text: '8', quality: 'typed' } as const;
  expect(codesOf(changed, 40, [mark])).toEqual([]);
});
