/**
 * OPC 10000-9, B.1.5: with an OnDelay the value must stay beyond its limit for the whole delay, else there is no alarm;
 * with a deadband an active alarm does not return before the value is back by it; 5.8.22.1: limits of a deviation alarm
 * follow the set point. Threshold 100 with hysteresis 5: active above 100, clear below 95 (a recorder's manual, vendor
 * withheld).
 */
import { expect, test } from 'vitest';
import type { WindowVerdict } from '../../src/judge/index.ts';
import { type Interlock, type Level, levelAt } from '../../src/rulebook/index.ts';
import { bookOf, codes, effect, idOf, judged, sample, underspeed } from '../rooms/judge/rig.ts';

const { limit: _limit, delay: _delay, ...bare } = underspeed();
const level = (offset: number): Level => ({ of: 'absolute', factor: 0, offset });

const instant: Interlock = {
  ...bare,
  cause: {
    kind: 'level',
    signal: idOf('temp'),
    side: 'above',
    setPoint: level(100),
    tolerance: level(2),
    clears: level(95),
  },
  effects: [effect('horn', 1, 6e6, { class: 'alarm', until: 'cause-clears' })],
  armed: { when: [], after: 0 },
};
/** OnDelay of 5 s. */
const delayed: Interlock = { ...instant, delay: { time: 5e6, tolerance: 0.5e6, onReturn: 'resets' } };

type Horn = (t: number) => boolean;

const windowOf = (one: Interlock, temp: (t: number) => number, horn: Horn): WindowVerdict | undefined =>
  judged(
    bookOf([one]),
    sample({ temp, horn: (t) => (horn(t) ? 1 : 0) }, { from: 0, to: 120, every: 0.1, phase: 0.03 }),
    { method: 'injected' },
  ).windows[0];

const within =
  (...spans: readonly (readonly [number, number])[]) =>
  (t: number): boolean =>
    spans.some(([from, to]) => t >= from && t < to);

/** Up 1 a second from 80 at 10 s through 100 at 30 s; a step to 110 from 60 to 70 s; a spike of 3 s at 90 s. */
const ramp = (t: number): number => (t >= 10 && t < 40 ? 80 + (t - 10) : 80);
const moves =
  (spike: number) =>
  (t: number): number =>
    within([60, 70], [90, 90 + spike])(t) ? 110 : ramp(t);

const outcomeOf = (verdict: WindowVerdict | undefined, name: string) =>
  verdict?.aspects.find((one) => one.name === name)?.outcome;

test('an alarm at crossing + OnDelay passes, and a spike shorter than OnDelay without an alarm changes nothing', () => {
  for (const spike of [0, 3]) {
    const verdict = windowOf(delayed, moves(spike), within([35, 40], [65, 70]));
    expect(verdict?.outcome).toBe('pass');
    expect(verdict?.delay?.low).toBeLessThanOrEqual(5);
    expect(verdict?.delay?.high).toBeGreaterThanOrEqual(5);
    expect(verdict?.trials.length).toBe(spike === 0 ? 2 : 3);
  }
});

test.each([
  ['a second early', [34, 64]],
  ['two seconds late', [37, 67]],
])('an alarm %s fails its delay', (_when, [first, second]) => {
  const verdict = windowOf(delayed, moves(0), within([first!, 40], [second!, 70]));
  expect(verdict?.outcome).toBe('fail');
  expect(outcomeOf(verdict, 'delay')).toBe('fail');
});

const spiked = (t: number): number => (within([10, 13])(t) ? 110 : 80);

test('a spike shorter than OnDelay: an alarm during it fails, no alarm is no fail and proves nothing', () => {
  const wrong = windowOf(delayed, spiked, within([11, 13]));
  expect(wrong?.outcome).toBe('fail');
  expect(codes(wrong)).toContain('delay-outside');
  expect(windowOf(delayed, spiked, () => false)?.outcome).toBe('inconclusive');
});

test('a spike shorter than OnDelay: an alarm after it is gone never passes by itself', () => {
  for (const dwell of [1e6, 4e6]) {
    expect(windowOf({ ...delayed, dwell }, spiked, within([15, 17]))?.outcome).not.toBe('pass');
  }
});

/** 3 s beyond, 1 s back, beyond again: a delay that starts anew ends 5 s after the second crossing. */
test('a delay that adds up what was interrupted fails, one that starts anew does not', () => {
  const twice = (t: number): number => (within([10, 13], [14, 30])(t) ? 110 : 80);
  const patient = { ...delayed, dwell: 4e6 };
  const adds = windowOf(patient, twice, within([16, 30]));
  expect(adds?.outcome).toBe('fail');
  expect(windowOf(patient, twice, within([19, 30]))?.outcome).toBe('inconclusive');
});

/** Up 1.5 a second, down 1.5 a second: through 100 at 23.3 s, back at 100 at 36.7 s, at 95 at 40 s. */
const hill = (t: number): number => Math.max(80, Math.min(80 + 1.5 * (t - 10), 110 - 1.5 * (t - 30)));
const released = (at: number): WindowVerdict | undefined =>
  windowOf(
    { ...instant, release: { at: level(95), tolerance: level(1) } },
    hill,
    within([10 + 20 / 1.5, at]),
  );

test('hysteresis 100 / 95: an alarm that returns at 95 passes', () => {
  expect(released(40)?.outcome).toBe('pass');
});

test.each([
  ['at 100, without its deadband', 36.67],
  ['at 104, while the cause is still there', 34],
  ['at 85, far behind', 10 + 60 / 1.5 - 3.33],
])('hysteresis 100 / 95: an alarm that returns %s fails', (_where, at) => {
  expect(released(at)?.outcome).toBe('fail');
});

test('hysteresis 100 / 95: an alarm that never returns does not pass', () => {
  expect(released(999)?.outcome).not.toBe('pass');
});

/** Set point 10, high deviation 2, low deviation −1; then set point 11. */
test.each([
  [10, 9, 12],
  [11, 10, 13],
])('a deviation alarm at set point %i: low below %i, high above %i', (set, low, high) => {
  const tag = idOf('speed');
  const refs = { tags: { [tag]: { low: set, high: set } } };
  const limit = (deviation: number): Level => ({ of: 'tag', tag, factor: 1, offset: deviation });
  expect(levelAt(limit(-1), refs)).toEqual({ low, high: low });
  expect(levelAt(limit(2), refs)).toEqual({ low: high, high });
  const alarm = (side: 'below' | 'above', deviation: number): Interlock => ({
    ...instant,
    cause: {
      kind: 'level',
      signal: idOf('temp'),
      side,
      setPoint: limit(deviation),
      tolerance: level(0.3),
      clears: limit(deviation / 2),
    },
    effects: [effect('horn', 1, 0.5e6, { class: 'alarm' })],
  });
  for (const [side, deviation, at] of [
    ['below', -1, low],
    ['above', 2, high],
  ] as const) {
    const sign = side === 'above' ? 1 : -1;
    const value = (t: number): number =>
      set + sign * Math.max(0, Math.min(0.2 * (t - 10), 3, 0.2 * (40 - t)));
    const judgedAt = (acts: number): WindowVerdict | undefined => {
      const plant = {
        speed: () => set,
        temp: value,
        horn: (t: number) => (sign * value(t) >= sign * acts ? 1 : 0),
      };
      const rows = sample(plant, { from: 0, to: 60, every: 0.1, phase: 0.03 });
      return judged(bookOf([alarm(side, deviation)]), rows, { method: 'injected' }).windows[0];
    };
    expect(judgedAt(at)?.outcome).toBe('pass');
    expect(judgedAt(at + 0.6)?.outcome).toBe('fail');
    expect(judgedAt(at - 0.6)?.outcome).toBe('fail');
  }
});

test('an alarm that returns while the cause is still there does not pass, without a release level either', () => {
  expect(windowOf(instant, hill, within([10 + 20 / 1.5, 34]))?.outcome).not.toBe('pass');
});

test('an alarm that comes when the spike is gone and its trial is over takes the pass away', () => {
  const horn = within([35, 40], [65, 70], [95, 97]);
  expect(windowOf(delayed, moves(3), horn)?.outcome).not.toBe('pass');
});

test('an alarm during a spike shorter than OnDelay fails the window, as it fails its trial', () => {
  const verdict = windowOf(delayed, moves(3), within([35, 40], [65, 70], [91, 93]));
  expect(verdict?.trials[2]?.outcome).toBe('fail');
  expect(verdict?.outcome).toBe('fail');
});
