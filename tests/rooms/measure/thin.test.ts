/** Thinning out: whatever comes, no excursion, no absence and no change of a state is lost or moved. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createThinner } from '../../../src/measure/index.ts';

interface Row {
  readonly t: number;
  readonly low: number;
  readonly high: number;
  readonly why: number;
}

const thinned = (rows: readonly Row[], column: number, stepped: boolean): Row[] => {
  const kept: Row[] = [];
  const thinner = createThinner({ column, stepped }, (t, low, high, why) => kept.push({ t, low, high, why }));
  for (const { t, low, high, why } of rows) thinner.take(t, low, high, why);
  thinner.flush();
  return kept;
};

/** Few different values and reasons, so that runs, ties and alternations are common. */
const drawn = (values: number, apart = 0) =>
  fc
    .array(
      fc.record({
        gap: fc.integer({ min: apart, max: 30 }),
        low: fc.integer({ min: 0, max: values }),
        wide: fc.integer({ min: 0, max: values }),
        why: fc.constantFrom(0, 0, 0, 0, 3, 10),
      }),
      { minLength: 1, maxLength: 80 },
    )
    .map((steps) => {
      let t = 1_000;
      return steps.map(({ gap, low, wide, why }): Row => {
        t += gap;
        return why === 0 ? { t, low, high: low + wide, why } : { t, low: 0, high: 0, why };
      });
    });
const widths = fc.integer({ min: 1, max: 200 });

const isSame = (a: Row | undefined, b: Row | undefined): boolean =>
  a !== undefined && b !== undefined && a.low === b.low && a.high === b.high && a.why === b.why;

/** Every row that is kept is one that came, in the order in which they came. */
const expectSubsequence = (rows: readonly Row[], kept: readonly Row[]): void => {
  let at = 0;
  for (const one of kept) {
    while (at < rows.length && !(isSame(rows[at], one) && rows[at]?.t === one.t)) at += 1;
    expect(at).toBeLessThan(rows.length);
    at += 1;
  }
  expect(kept[0]).toEqual(rows[0]);
  expect(kept.at(-1)).toEqual(rows.at(-1));
};

test('of a measured value each column keeps its least and its greatest, and at most four rows of a run', () => {
  fc.assert(
    fc.property(drawn(9), widths, (rows, column) => {
      const kept = thinned(rows, column, false);
      expectSubsequence(rows, kept);
      const cells = new Set(rows.map(({ t }) => Math.floor(t / column)));
      for (const cell of cells) {
        const inCell = (list: readonly Row[]): Row[] =>
          list.filter(({ t, why }) => why === 0 && Math.floor(t / column) === cell);
        const [all, own] = [inCell(rows), inCell(kept)];
        if (all.length === 0) continue;
        expect(Math.min(...own.map(({ low }) => low))).toBe(Math.min(...all.map(({ low }) => low)));
        expect(Math.max(...own.map(({ high }) => high))).toBe(Math.max(...all.map(({ high }) => high)));
        const runs = all.filter((row) => rows[rows.indexOf(row) - 1]?.why !== 0).length + 1;
        expect(own.length).toBeLessThanOrEqual(4 * runs);
      }
    }),
    { numRuns: 3_000 },
  );
});

test('each absence keeps its reason, its first row and its last', () => {
  fc.assert(
    fc.property(drawn(9), widths, fc.boolean(), (rows, column, stepped) => {
      const kept = thinned(rows, column, stepped);
      rows.forEach((row, index) => {
        const begins = rows[index - 1]?.why !== row.why;
        const ends = rows[index + 1]?.why !== row.why;
        if (row.why === 0 || !(begins || ends)) return;
        expect(kept.some((one) => one.t === row.t && one.why === row.why)).toBe(true);
      });
    }),
    { numRuns: 3_000 },
  );
});

test('no change of a state is moved: it can be read off at every instant as before', () => {
  fc.assert(
    fc.property(drawn(2, 1), widths, (rows, column) => {
      const kept = thinned(rows, column, true);
      expectSubsequence(rows, kept);
      rows.forEach((row, index) => {
        if (index === 0 || isSame(rows[index - 1], row)) return;
        const at = kept.findIndex((one) => one.t === row.t && isSame(one, row));
        expect(at).toBeGreaterThan(0);
        expect(kept[at - 1] && isSame(kept[at - 1], rows[index - 1])).toBe(true);
      });
    }),
    { numRuns: 3_000 },
  );
});

describe('what is held back', () => {
  test('can be seen without ending it, and no row is told twice', () => {
    const kept: number[] = [];
    const thinner = createThinner({ column: 100, stepped: false }, (t) => kept.push(t));
    for (const t of [100, 110, 120]) thinner.take(t, t, t, 0);
    const seen: number[] = [];
    thinner.pending((t) => seen.push(t));
    expect([seen, kept]).toEqual([[100, 120], []]);
    thinner.take(130, 0, 0, 0);
    thinner.flush();
    thinner.flush();
    expect(kept).toEqual([100, 120, 130]);
  });
});
