/** What a plot is drawn from: rows in a ring, columns that hide nothing, the value at an instant, and all of it in words. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createColumns, fill } from '../../src/console/plot/columns.ts';
import { steadyRange } from '../../src/console/plot/range.ts';
import { countUntil, createSeries, put, takeRows, timeOf } from '../../src/console/plot/series.ts';
import { changesOf, summaryOf } from '../../src/console/plot/summary.ts';
import { splitsOf } from '../../src/console/plot/ticks.ts';
import { valueAt } from '../../src/console/plot/value-at.ts';
import { moved, zoomed } from '../../src/console/plot/view.ts';
import { absenceIndex } from '../../src/measure/index.ts';

const LOST = absenceIndex('timed-out');

/** Rows as [second, low, high] or [second, why]. */
const seriesOf = (...rows: readonly (readonly number[])[]) => {
  const series = createSeries();
  for (const [t = 0, low = 0, high] of rows)
    put(
      series,
      high === undefined ? { t, low: Number.NaN, high: Number.NaN, why: low } : { t, low, high, why: 0 },
    );
  return series;
};

describe('rows of a signal', () => {
  test('the oldest give way once the ring is full, in their order', () => {
    const series = createSeries();
    for (let t = 0; t < 3_000; t += 1) put(series, { t, low: t, high: t, why: 0 }, 1_024);
    expect(series.count).toBe(1_024);
    expect(timeOf(series, 0)).toBe(3_000 - 1_024);
    expect(timeOf(series, 1_023)).toBe(2_999);
    expect(countUntil(series, 2_500.5)).toBe(2_501 - (3_000 - 1_024));
  });

  test('what was told before is left out when it is told again', () => {
    const all = [createSeries()];
    const rows = { signal: [0, 0], t: [1e6, 2e6], low: [1, 2], high: [1, 2], why: ['', ''] as const };
    takeRows(all, rows, 0);
    takeRows(all, { ...rows, t: [1_500_000, 3e6] }, 0);
    expect([0, 1, 2].map((row) => timeOf(all[0]!, row))).toEqual([1, 2, 3]);
    expect(all[0]?.count).toBe(3);
  });
});

describe('columns', () => {
  test('however few pixels there are, the extremes are those of all rows', () => {
    const rows = fc.array(
      fc.tuple(fc.double({ min: -50, max: 50, noNaN: true }), fc.double({ min: 0, max: 5, noNaN: true })),
      {
        minLength: 1,
        maxLength: 400,
      },
    );
    fc.assert(
      fc.property(rows, fc.integer({ min: 1, max: 40 }), (values, pixels) => {
        const series = seriesOf(...values.map(([low, doubt], t) => [t, low, low + doubt]));
        const columns = createColumns();
        fill(columns, series, 0, values.length, pixels);
        const lows = values.map(([low]) => low);
        const highs = values.map(([low, doubt]) => low + doubt);
        expect(columns.count).toBeLessThanOrEqual(pixels + 1);
        const [least, greatest] = [columns.low, columns.high].map((one) => [
          ...one.subarray(0, columns.count),
        ]);
        expect(Math.min(...least!)).toBe(Math.min(...lows));
        expect(Math.max(...greatest!)).toBe(Math.max(...highs));
      }),
      { seed: 7 },
    );
  });

  test('nothing is known from the last reading to the next, and no line goes across', () => {
    const series = seriesOf([0, 1, 2], [1, 1, 2], [1.5, LOST], [2.5, LOST], [4, 3, 4], [5, 3, 4]);
    const columns = createColumns();
    fill(columns, series, 0, 5, 500);
    expect(columns.gaps.count).toBe(1);
    expect([columns.gaps.from[0], columns.gaps.to[0], columns.gaps.why[0]]).toEqual([1, 4, LOST]);
    expect([...columns.apart.subarray(0, columns.count)]).toEqual([1, 0, 1, 0]);
  });

  test('a gap that is not over goes on to the edge', () => {
    const columns = createColumns();
    fill(columns, seriesOf([0, 1, 2], [1, LOST]), 0, 9, 100);
    expect([columns.gaps.from[0], columns.gaps.to[0]]).toEqual([0, 9]);
  });
});

// Between two readings a signal is taken as monotone (meaning of a verdict, DEVELOPERS.md): the hull of both.
test('at an instant between two readings a signal lay in the hull of both', () => {
  const series = seriesOf([0, 95.95, 96.05], [1, 80, 80.1], [2, LOST], [3, 70, 70.1]);
  expect(valueAt(series, 0)).toEqual({ is: 'value', low: 95.95, high: 96.05 });
  expect(valueAt(series, 0.5)).toEqual({ is: 'value', low: 80, high: 96.05 });
  expect(valueAt(series, 1.5)).toEqual({ is: 'absent', why: 'timed-out' });
  expect(valueAt(series, 2.5)).toEqual({ is: 'absent', why: 'timed-out' });
  expect(valueAt(series, 3.5)).toEqual({ is: 'value', low: 70, high: 70.1 });
  expect(valueAt(seriesOf([0, 1, 2], [1, 5, 6]), 0.5)).toEqual({ is: 'value', low: 1, high: 6 });
  expect(valueAt(series, 30)).toEqual({ is: 'nothing' });
  expect(valueAt(series, -1)).toEqual({ is: 'nothing' });
});

test('in words: least, greatest, last, and between which instants a level was certainly crossed', () => {
  const series = seriesOf([0, 95, 96], [1, 84, 85], [2, 78, 79], [3, 70, 71], [4, LOST], [5, 90, 91]);
  const band = { signal: 's', kind: 'set-point', level: { low: 78.5, high: 78.9 } } as const;
  const told = summaryOf(series, 0, 5, band);
  expect(told.least).toEqual({ low: 70, high: 71, at: 3 });
  expect(told.greatest).toEqual({ low: 95, high: 96, at: 0 });
  expect(told.last).toEqual({ low: 90, high: 91 });
  expect(told.gaps).toBe(1);
  // At 2 s it lay on both sides: it was certainly above at 1 s, certainly below at 3 s.
  expect(told.crossings).toEqual([
    { to: 'below', after: 1, until: 3 },
    { to: 'above', after: 3, until: 5 },
  ]);
});

test('a state changed between the last reading of the one and the first of the other', () => {
  const series = seriesOf([0, 1, 1], [1, 1, 1], [1.2, 0, 0], [2, LOST], [3, 1, 1]);
  expect(changesOf(series, 0, 3)).toEqual([
    { state: 1, after: 0, until: 0 },
    { state: 0, after: 1, until: 1.2 },
    { state: 1, after: 1.2, until: 3 },
  ]);
});

describe('what part of time is shown', () => {
  const reach = { from: 0, to: 100 };

  test('nearer keeps the instant where it is; while it follows, the newest edge', () => {
    expect(zoomed({ from: 0, to: 100, follows: false }, 0.5, 20, reach)).toEqual({
      from: 10,
      to: 60,
      follows: false,
    });
    expect(zoomed({ from: 40, to: 100, follows: true }, 0.5, 50, reach)).toEqual({
      from: 70,
      to: 100,
      follows: true,
    });
  });

  test('nothing outside is shown', () => {
    expect(moved({ from: 60, to: 80, follows: true }, 500, reach)).toEqual({
      from: 80,
      to: 100,
      follows: false,
    });
    expect(zoomed({ from: 10, to: 30, follows: false }, 99, 20, reach)).toEqual({
      from: 0,
      to: 100,
      follows: false,
    });
  });

  test('lines of the grid fall on whole seconds of the clock', () => {
    // 2026-11-26 02:00:00.250 UTC.
    const zero = Date.UTC(2026, 10, 26, 2, 0, 0, 250) * 1_000;
    const splits = splitsOf(0, 60, 6, { zero, times: 'clock' });
    expect(splits.map((t) => (t + 0.25) % 10)).toEqual([0, 0, 0, 0, 0, 0]);
    expect(splitsOf(0, 60, 6, { zero, times: 'elapsed' })[1]).toBe(10);
  });
});

test('a scale widens at once and narrows only where half of it would be empty', () => {
  const range = steadyRange();
  const [min, max] = range(50, 100);
  expect(min).toBeLessThan(50);
  expect(max).toBeGreaterThan(100);
  expect(range(60, 99)).toEqual([min, max]);
  expect(range(50, 120)[1]).toBeGreaterThan(120);
  const [low, high] = range(90, 95);
  expect(low).toBeGreaterThan(89);
  expect(high).toBeLessThan(96);
});
