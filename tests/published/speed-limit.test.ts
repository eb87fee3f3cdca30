/**
 * 29 CFR 1910.272(q)(5): a motion detection device shuts the bucket elevator down when its belt speed is reduced by no
 * more than 20 % of normal. Rows of normal speeds: Perry's Chemical Engineers' Handbook (from memory), the trip table
 * computed from both: the speed when the shutdown is asserted counts. Every device here has its set point at
 * 80.2 % ± 1 %, so that only the limit can fail it.
 */
import { expect, test } from 'vitest';
import type { WindowVerdict } from '../../src/judge/index.ts';
import type { Decision, Interlock } from '../../src/rulebook/index.ts';
import { bookOf, codes, effect, idOf, judged, type Plant, sample, underspeed } from '../rooms/judge/rig.ts';
import { refined } from './rows.ts';

const { delay: _delay, ...bare } = underspeed();
const ofNormal = (factor: number) => ({ of: 'normal' as const, factor, offset: 0 });
const limited = (inclusive: boolean, setPoint = 0.802, tolerance = 0.01): Interlock => ({
  ...bare,
  cause: {
    kind: 'level',
    signal: idOf('speed'),
    side: 'below',
    setPoint: ofNormal(setPoint),
    tolerance: ofNormal(tolerance),
    clears: ofNormal(0.85),
  },
  limit: { ...underspeed().limit!, inclusive, judgedAt: 'effect' },
  effects: [effect('run', 0, 1.5e6), effect('tripped', 1, 1.5e6, { class: 'trip' })],
});

const machineAt = (rpm: number) => ({
  normals: [
    {
      signal: idOf('speed'),
      from: { kind: 'declared' as const, value: { low: rpm, high: rpm } },
      nameplate: { low: rpm, high: rpm },
      allowance: 0.05,
    },
  ],
});

const tripping = (from: number): Plant => ({
  run: (t) => (t >= from ? 0 : 1),
  running: (t) => (t >= from + 0.2 ? 0 : 1),
  tripped: (t) => (t >= from ? 1 : 0),
});

const outcomeOf = (verdict: WindowVerdict | undefined, name: string) =>
  verdict?.aspects.find((one) => one.name === name)?.outcome;

/** Falls 0.5 rpm/s from its normal at 6 s, trips at `trip`, is shown within 0.005 rpm every 20 ms. */
const ramped = (
  rpm: number,
  trip: number,
  decision: Decision = { rule: 'bounds' },
): WindowVerdict | undefined => {
  const when = 6 + (rpm - trip) / 0.5;
  const speed = (t: number): number => (t > when + 4 ? rpm : Math.min(rpm, rpm - 0.5 * (t - 6)));
  const rows = sample({ ...tripping(when), speed }, { from: 0, to: when + 8, every: 0.02, phase: 0.003 });
  const book = bookOf([{ ...limited(true), decision }], { machine: machineAt(rpm) });
  return judged(book, refined(rows, 'speed', speed, 0.005), { method: 'injected' }).windows[0];
};

test.each([
  [20, 43, 34.4, 34.5, 34.3],
  [24, 41, 32.8, 32.9, 32.7],
  [30, 38, 30.4, 30.5, 30.3],
])('pulley of %i in at %i rpm, limit %f rpm: %f passes, %f fails', (_inches, rpm, limit, passes, fails) => {
  const good = ramped(rpm, passes);
  expect(outcomeOf(good, 'limit')).toBe('pass');
  expect(good?.outcome).toBe('pass');
  expect(good?.tripPoint?.low).toBeGreaterThan(limit);
  const bad = ramped(rpm, fails);
  expect(outcomeOf(bad, 'set-point')).toBe('pass');
  expect(outcomeOf(bad, 'limit')).toBe('fail');
  expect(bad?.outcome).toBe('fail');
  expect(codes(bad)).toContain('limit-violated');
  const at = ramped(rpm, limit);
  expect(outcomeOf(at, 'limit')).toBe('inconclusive');
  expect(at?.tripPoint?.low).toBeLessThan(limit);
  expect(at?.tripPoint?.high).toBeGreaterThan(limit);
});

/** ILAC-G8:09/2019: with simple acceptance up to half of what is accepted at the limit may be wrong; with w = U, 2.5 %. */
test.each([
  ['bounds', 32.804, 'inconclusive'],
  ['bounds', 32.79, 'inconclusive'],
  ['simple', 32.804, 'pass'],
  ['simple', 32.79, 'fail'],
  ['guard-band', 32.804, 'inconclusive'],
  ['guard-band', 32.79, 'inconclusive'],
  ['guard-band', 32.9, 'pass'],
  ['guard-band', 32.7, 'fail'],
] as const)('near the limit of 32.8 rpm, %s: a trip at %s rpm is %s', (rule, trip, outcome) => {
  const verdict = ramped(41, trip, rule === 'guard-band' ? { rule, r: 1 } : { rule });
  const limit = verdict?.aspects.find((one) => one.name === 'limit');
  expect(limit?.outcome).toBe(outcome);
  const probability = limit?.reason.params['probability'];
  if (rule === 'bounds') expect(probability).toBeUndefined();
  else if (trip > 32.8) expect(probability).toBeGreaterThan(0.5);
  else expect(probability).toBeLessThan(0.5);
});

/** Steps of 0.1 rpm, each held 0.5 s, shown exactly; the device acts while the speed stands at `trip`. */
const stepped = (trip: number, inclusive: boolean): WindowVerdict | undefined => {
  const rpm = 41;
  const steps = Math.round((rpm - trip) * 10);
  const reached = 6 + (steps - 1) * 0.5;
  const speed = (t: number): number => {
    if (t > reached + 4) return rpm;
    const step = Math.min(steps, Math.max(0, Math.floor((t - 6) / 0.5 + 1e-9) + 1));
    return (410 - step) / 10;
  };
  const polling = { from: 0, to: reached + 8, every: 0.1, phase: 0.05, consistent: true };
  const rows = sample({ ...tripping(reached + 0.3), speed }, polling);
  const book = bookOf([limited(inclusive)], { machine: machineAt(rpm), consistent: true });
  return judged(book, refined(rows, 'speed', speed, 0), { method: 'injected' }).windows[0];
};

/** 0.8 × 41 is 32.800000000000004 in IEEE 754: the federal wording takes equality in, a stricter one may leave it out. */
test('a trip at exactly 32.8 rpm of 41: met where equality is inside, violated where it is not', () => {
  const exact = stepped(32.8, true);
  expect(exact?.tripPoint).toEqual({ low: 32.8, high: 32.8 });
  expect(outcomeOf(exact, 'limit')).toBe('pass');
  expect(exact?.outcome).toBe('pass');
  const open = stepped(32.8, false);
  expect(outcomeOf(open, 'limit')).toBe('fail');
  expect(outcomeOf(stepped(32.9, false), 'limit')).toBe('pass');
  expect(outcomeOf(stepped(32.7, true), 'limit')).toBe('fail');
});

/** Stands at `level` for ten seconds, and nothing stops. */
const held = (level: number, setPoint: number, tolerance: number): WindowVerdict | undefined => {
  const speed = (t: number): number => (t >= 6 && t < 16 ? level : 41);
  const rows = sample({ speed }, { from: 0, to: 20, every: 0.1, phase: 0.05, consistent: true });
  const book = bookOf([limited(true, setPoint, tolerance)], { machine: machineAt(41), consistent: true });
  return judged(book, refined(rows, 'speed', speed, 0), { method: 'injected' }).windows[0];
};

/** WAC 296-99-085(5): must stop when reduced to less than 80 %; at exactly 80 % no stop is asked for yet. */
test('held at exactly 80 % without a stop is no fail, held at 79.8 % without a stop is one', () => {
  expect(held(32.8, 0.8, 0)?.outcome).toBe('inconclusive');
  const below = held(32.7, 0.8, 0);
  expect(below?.outcome).toBe('fail');
  expect(codes(below)).toContain('effect-missing');
});

/** 20.2 % below normal for ten seconds is a shutdown that did not come, although the set point's band goes lower. */
test('held 20.2 % below normal without a stop does not pass, whatever the set point promises', () => {
  expect(held(32.7, 0.802, 0.01)?.outcome).not.toBe('pass');
});

/** What the judge does not tell apart yet: it must turn red, and then lose its `fails`, when it does. */
test('held certainly beyond the limit without a stop is a fail of the limit', () => {
  expect(held(32.7, 0.802, 0.01)?.outcome).toBe('fail');
});
