/**
 * OPC 10000-13, example data of the aggregates (AggregateExamples.csv, Historian1): 10 at :10, 20 at :20, 30 at :30, Bad
 * at :40, 50 at :50, 60 at 1:00. Interpolated at :35, :40 and :45 the values are 35, 40 and 45, all
 * UncertainDataSubNormal; at :15, :25 and :55 they are Good.
 */
import { expect, test } from 'vitest';
import type { WindowVerdict } from '../../src/judge/index.ts';
import { rowsFrom, swept } from '../../src/judge/rows.ts';
import { bookOf, codes, effect, idOf, judged, sample, underspeed } from '../rooms/judge/rig.ts';
import { refined } from './rows.ts';

const GOOD = [10, 20, 30, 50, 60];
const rows = rowsFrom(
  GOOD.map((value) => ({
    earliest: value * 1e6,
    latest: value * 1e6,
    low: value,
    high: value,
    response: 0,
  })),
);
const hullAt = (second: number) => swept(rows, second * 1e6 - 1, second * 1e6 + 1);

test.each([
  [15, 15, 10],
  [25, 25, 10],
  [55, 55, 10],
  [35, 35, 20],
  [40, 40, 20],
  [45, 45, 20],
])('at :%i the value %i is held within %i', (second, value, width) => {
  const hull = hullAt(second);
  expect(hull?.low).toBeLessThanOrEqual(value);
  expect(hull?.high).toBeGreaterThanOrEqual(value);
  expect((hull?.high ?? 0) - (hull?.low ?? 0)).toBe(width);
});

test('before the first value nothing is known, after the last nothing yet', () => {
  expect(hullAt(5)?.openStart).toBe(true);
  expect(hullAt(70)).toBeUndefined();
});

/** An alarm at 35 ± 6 that acts when 35 is crossed, seen at :40; with the Bad sample the crossing is in doubt. */
const crossed = (bad: boolean): WindowVerdict | undefined => {
  const { delay: _delay, limit: _limit, ...bare } = underspeed();
  const level = (offset: number) => ({ of: 'absolute' as const, factor: 0, offset });
  const alarm = {
    ...bare,
    cause: {
      kind: 'level' as const,
      signal: idOf('temp'),
      side: 'above' as const,
      setPoint: level(35),
      tolerance: level(6),
      clears: level(25),
    },
    effects: [effect('horn', 1, 30e6, { class: 'alarm' })] as const,
    armed: { when: [], after: 0 },
  };
  const value = (t: number) => (t < 10 || t > 65 ? 10 : Math.min(60, t));
  const plant = {
    temp: (t: number) => (bad && Math.abs(t - 40) < 1 ? undefined : value(t)),
    horn: (t: number) => (t >= 35 && t <= 65 ? 1 : 0),
  };
  const polled = sample(plant, { from: -20, to: 120, every: 10, phase: 0, consistent: true });
  const book = bookOf([alarm], { consistent: true });
  // Samples come every ten seconds: older than fifteen, they tell nothing.
  const patient = { ...book, signals: book.signals.map((def) => ({ ...def, agedAfter: 15e6 })) };
  return judged(patient, refined(polled, 'temp', value, 0), {
    method: 'heated',
  }).windows[0];
};

test('a crossing between good samples is placed between them, one across a Bad sample is in doubt', () => {
  const good = crossed(false);
  expect(good?.tripPoint).toEqual({ low: 30, high: 40 });
  expect(codes(good)).not.toContain('evidence-gap');
  const bad = crossed(true);
  expect(bad?.outcome).toBe('inconclusive');
  expect(codes(bad)).toContain('evidence-gap');
  expect(bad?.trials[0]?.tripPoint?.low).toBeLessThanOrEqual(35);
  expect(bad?.trials[0]?.tripPoint?.high).toBeGreaterThanOrEqual(45);
});
