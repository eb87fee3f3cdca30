/** Drift over years, and two sides compared: arithmetic of intervals, by hand. */
import { describe, expect, test } from 'vitest';
import { type Interval, instant } from '../../../src/measure/index.ts';
import {
  compareSides,
  compareText,
  driftOf,
  dueList,
  historyOf,
  isChanged,
  knownAt,
  slopeOf,
} from '../../../src/report/index.ts';
import { text } from '../../../src/words/index.ts';
import { bookOf, load, ROOT } from '../config/load.ts';
import { at, pastOf, type WindowMade } from './past.ts';

const book = bookOf(load(`${ROOT}config/demo-site.yaml`));
const YEAR = 365.25 * 86_400_000_000;
const STOP = 'E1.underspeed-stop';

const points = (...values: readonly (readonly [year: number, low: number, high: number])[]) =>
  values.map(([year, low, high]) => ({ at: instant(year * YEAR), value: { low, high }, window: `w${year}` }));

describe('the slope of every line through all intervals', () => {
  test('two points: from top to bottom, and from bottom to top', () => {
    // (80 − 83) / 2 = −1.5 and (82 − 81) / 2 = 0.5 a year.
    expect(slopeOf(points([0, 81, 83], [2, 80, 82]))).toEqual({ low: -1.5, high: 0.5 });
  });
  test('a third point can only narrow it; order of arrival is nothing', () => {
    // From year 0 to 3: (78 − 83) / 3 … (79 − 81) / 3; from 2 to 3: (78 − 82) … (79 − 80).
    const three = points([0, 81, 83], [2, 80, 82], [3, 78, 79]);
    expect(slopeOf(three)?.low).toBe(-1.5);
    expect(slopeOf(three)?.high).toBe(-1);
    expect(slopeOf([...three].reverse())).toEqual(slopeOf(three));
  });
  test('no line fits a step up and down; one point says nothing', () => {
    expect(slopeOf(points([0, 80, 80.1], [1, 82, 82.1], [2, 80, 80.1]))).toBeUndefined();
    expect(slopeOf(points([0, 80, 81]))).toBeUndefined();
  });
  test('exact values: exactly one line, and the day on which it leaves', () => {
    // 82 − 0.5 a year is 80.5 after three years.
    const drift = driftOf(points([0, 82, 82], [0.5, 81.75, 81.75], [1, 81.5, 81.5]), {
      low: 80.5,
      high: 83.5,
    });
    expect(drift?.slope).toEqual({ low: -0.5, high: -0.5 });
    for (const found of [drift?.earliest, drift?.latest]) expect((found ?? 0) / YEAR).toBeCloseTo(3, 1);
  });
  test('with doubt there is an earliest and a latest', () => {
    // 82 ± 0.1 and 81 ± 0.1 a year later: between −1.2 and −0.8 a year. At the earliest 80.9 − 1.2 t = 80.5, a third of a
    // year on; at the latest 81.1 − 0.8 t = 80.5, three quarters on.
    const drift = driftOf(points([0, 81.9, 82.1], [0.5, 81.4, 81.6], [1, 80.9, 81.1]), {
      low: 80.5,
      high: 83.5,
    });
    expect(drift?.slope.low).toBeCloseTo(-1.2, 9);
    expect(drift?.slope.high).toBeCloseTo(-0.8, 9);
    expect((drift?.earliest ?? 0) / YEAR).toBeCloseTo(1 + 0.4 / 1.2, 1);
    expect((drift?.latest ?? 0) / YEAR).toBeCloseTo(1 + 0.6 / 0.8, 1);
  });
  test('what may stand still never leaves for certain', () => {
    const still = driftOf(points([0, 81, 83], [1, 81, 83], [2, 81, 83]), { low: 80.5, high: 83.5 });
    expect(still?.slope.high).toBeGreaterThan(0);
    expect(still?.latest).toBeUndefined();
  });
  test('two tests, or three of one day, tell nothing of years', () => {
    const allowed = { low: 80.5, high: 83.5 };
    expect(driftOf(points([0, 82, 82], [1, 81, 81]), allowed)).toBeUndefined();
    expect(driftOf(points([0, 82, 82], [0.001, 81.9, 81.9], [0.002, 81.8, 81.8]), allowed)).toBeUndefined();
    expect(driftOf(points([0, 81.9, 82.1], [0.5, 81.8, 82], [1, 81.7, 81.9]), allowed)).toBeDefined();
  });
});

const trip = (
  low: number,
  high: number,
  response: Interval = { low: 1, high: 1.2 },
  id = '',
): WindowMade => ({
  id,
  revisions: { E1: 'V1' },
  tested: [
    {
      name: STOP,
      verdict: { outcome: 'pass', tripPercent: { low, high }, tripPoint: { low, high }, response },
    },
  ],
});

const reasons = (past: ReturnType<typeof pastOf>, on: string) => {
  const known = knownAt(historyOf(past.entries), at(on));
  return known ? (dueList(known).rows.find(({ interlock }) => interlock === STOP)?.reasons ?? []) : [];
};

test('a drift that is certain stands in the list of what is due, with its dates', () => {
  const past = pastOf('2023-01-01', book)
    .window('2023-06-01', { ...trip(82.4, 82.6), id: 'w1' })
    .window('2024-06-01', { ...trip(81.9, 82.1, { low: 1.01, high: 1.2 }), id: 'w2' })
    .window('2025-06-01', { ...trip(81.4, 81.6, { low: 1.02, high: 1.2 }), id: 'w3' });
  const found = reasons(past, '2025-06-10').map((reason) => text(reason));
  expect(found).toHaveLength(1);
  expect(found[0]).toMatch(
    /^Its trip point drifts by -0\.6\d* … -0\.3\d* % a year; it may leave .* from 202[6-7]-.* by 20/,
  );
});

test('three windows alike to the last digit are too constant to be true, two are not', () => {
  const past = pastOf('2023-01-01', book)
    .window('2023-06-01', { ...trip(81.57, 82.49), id: 'w1' })
    .window('2024-06-01', { ...trip(81.57, 82.49), id: 'w2' });
  expect(reasons(past, '2024-06-10')).toEqual([]);
  past.window('2025-06-01', { ...trip(81.57, 82.49), id: 'w3' });
  expect(reasons(past, '2025-06-10')).toEqual([
    { code: 'too-constant', params: { windows: ['w1', 'w2', 'w3'] } },
  ]);
});

describe('two sides', () => {
  const seen = (name: string, from: number, to: number) => ({
    name,
    signal: 0 as never,
    changed: { earliest: instant(from), latest: instant(to) },
  });
  const made = (
    id: string,
    revision: string,
    low: number,
    high: number,
    effects: object[] = [],
  ): WindowMade => ({
    id,
    revisions: { E1: revision },
    tested: [
      { name: STOP, verdict: { outcome: 'pass', tripPercent: { low, high }, effects: effects as never } },
    ],
  });
  const sides = (b: WindowMade, one = made('w1', 'V1', 81.5, 82.5)) => {
    const past = pastOf('2026-01-01', book).window('2026-01-02', one).window('2026-02-02', b);
    return compareSides(historyOf(past.entries), 'w1', 'w2');
  };

  test('changed only where the intervals do not overlap', () => {
    // 82.6 − 82.5 = 0.1 and 83.0 − 81.5 = 1.5.
    const [apart] = sides(made('w2', 'V2', 82.6, 83)).rows;
    expect(apart?.figures).toMatchObject([{ what: 'trip point', unit: '%', told: 'changed' }]);
    expect(apart?.figures[0]?.difference?.low).toBeCloseTo(0.1, 9);
    expect(apart?.figures[0]?.difference?.high).toBeCloseTo(1.5, 9);
    // Touching is overlapping: 82.5 may be both.
    const touching = sides(made('w2', 'V2', 82.5, 83));
    expect(touching.rows[0]?.figures[0]?.told).toBe('no-change-visible');
    expect(touching.rows.some(isChanged)).toBe(false);
    expect(compareText(touching)).toContain('= no change visible within 0.0 … 1.5 %');
  });

  test('what was measured on one side only cannot be told', () => {
    const past = pastOf('2026-01-01', book)
      .window('2026-01-02', made('w1', 'V1', 81.5, 82.5))
      .window('2026-02-02', {
        id: 'w2',
        revisions: { E1: 'V2' },
        tested: [{ name: STOP, verdict: { outcome: 'inconclusive' } }],
      });
    const found = compareSides(historyOf(past.entries), 'w1', 'w2');
    expect(found.rows[0]?.figures).toMatchObject([{ told: 'one-side' }]);
    expect(compareText(found)).toContain('? cannot tell: trip point');
  });

  test('order counts only where it is certain on both sides; an effect on one side only is named', () => {
    const a = made('w1', 'V1', 82, 83, [seen('x', 0, 10), seen('y', 20, 30), seen('z', 0, 9)]);
    expect(sides(made('w2', 'V2', 82, 83, [seen('x', 20, 30), seen('y', 0, 10)]), a).rows[0]).toMatchObject({
      order: [['x', 'y']],
      onlyA: ['z'],
      onlyB: [],
    });
    expect(sides(made('w2', 'V2', 82, 83, [seen('x', 5, 30), seen('y', 0, 10)]), a).rows[0]?.order).toEqual(
      [],
    );
  });

  test('a revision stands for the newest test on it', () => {
    const past = pastOf('2026-01-01', book)
      .window('2026-01-02', made('w1', 'V1', 70, 71))
      .window('2026-01-03', made('w2', 'V1', 81.5, 82.5))
      .window('2026-02-02', made('w3', 'V2', 82, 83));
    const [row] = compareSides(historyOf(past.entries), 'V1', 'V2').rows;
    expect(row).toMatchObject({ a: { window: 'w2' }, b: { window: 'w3' } });
  });
});
