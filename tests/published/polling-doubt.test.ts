/**
 * What polling at a period T can know of an event, by the rectangular and triangular distributions of GUM 4.3.7 and
 * 4.3.9 (from memory): one edge is late by 0 … T, u = T/√12; the difference of two edges is off by −T … T, u = T/√6.
 * Phases are spread evenly, so that the same figures come every time.
 */
import { expect, test } from 'vitest';
import type { WindowVerdict } from '../../src/judge/index.ts';
import type { Interval } from '../../src/measure/index.ts';
import { at, bookOf, effect, idOf, judged, S, sample, underspeed } from '../rooms/judge/rig.ts';

const { delay: _delay, limit: _limit, ...bare } = underspeed();
const contact = {
  ...bare,
  cause: { kind: 'contact' as const, signal: idOf('contact'), state: 1 },
  effects: [effect('run', 0, 9e6)] as const,
  baseline: 0.5e6,
  armed: { when: [], after: 0 },
};

/** The contact closes at `closes`, the command drops at `drops`, both looked at each `every` seconds. */
const watched = (every: number, closes: number, drops: number): WindowVerdict | undefined => {
  const plant = {
    contact: (t: number) => (t >= closes ? 1 : 0),
    run: (t: number) => (t >= drops ? 0 : 1),
    tripped: (t: number) => (t >= drops ? 1 : 0),
  };
  const rows = sample(plant, { from: closes - 4, to: drops + 4 * every, every, phase: 0 });
  return judged(bookOf([contact]), rows, { method: 'displaced' }).windows[0];
};

const deviation = (errors: readonly number[]): number => {
  const mean = errors.reduce((sum, one) => sum + one, 0) / errors.length;
  return Math.sqrt(errors.reduce((sum, one) => sum + (one - mean) * (one - mean), 0) / errors.length);
};

const STRATA = 16;
const strata = (every: number): number[] =>
  Array.from({ length: STRATA }, (_, part) => ((part + 0.5) / STRATA) * every);
/** Even strata spread a little less than a continuous phase does: by √(1 − 1/n²). */
const SPREAD = Math.sqrt(1 - 1 / (STRATA * STRATA));

const middle = ({ low, high }: Interval): number => (low + high) / 2;

test.each([
  [0.25, 0.0722],
  [1, 0.2887],
])('one edge polled each %f s: T wide, holds the truth, u = %f s', (every, printed) => {
  const errors = strata(every).map((phase) => {
    const drops = 12 * every + phase;
    const seen = watched(every, drops - 1.5 * every, drops)?.effects[0]?.changed;
    const span = { low: seen?.earliest ?? 0, high: seen?.latest ?? 0 };
    expect(span.high - span.low).toBe(every * S);
    expect(span.low).toBeLessThanOrEqual(at(drops));
    expect(span.high).toBeGreaterThanOrEqual(at(drops));
    return (middle(span) - at(drops)) / S;
  });
  expect(deviation(errors) / SPREAD).toBeCloseTo(every / Math.sqrt(12), 5);
  expect(deviation(errors) / SPREAD).toBeCloseTo(printed, 4);
});

test.each([
  [0.25, 0.1021],
  [1, 0.4082],
])('two edges polled each %f s: 2 T wide, holds the truth, u = %f s', (every, printed) => {
  const errors = strata(every).flatMap((first) =>
    strata(every).map((second) => {
      const closes = 12 * every + first;
      const drops = 15 * every + second;
      const response = watched(every, closes, drops)?.response ?? { low: 0, high: 0 };
      expect(response.high - response.low).toBeCloseTo(2 * every, 6);
      expect(response.low).toBeLessThanOrEqual(drops - closes + 1e-6);
      expect(response.high).toBeGreaterThanOrEqual(drops - closes - 1e-6);
      return middle(response) - (drops - closes);
    }),
  );
  expect(deviation(errors) / SPREAD).toBeCloseTo(every / Math.sqrt(6), 5);
  expect(deviation(errors) / SPREAD).toBeCloseTo(printed, 4);
  expect(Math.max(...errors.map(Math.abs))).toBeLessThanOrEqual(every);
});
