/** The merge is held against the plainest one: all that waits in a list, sorted anew each time. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { columnsOf, instant, type Reading, rowsIn, type SignalId } from '../../../src/measure/index.ts';
import { createMerge } from '../../../src/signal/index.ts';

interface Waiting {
  readonly row: Reading;
  readonly source: number;
  readonly order: number;
}

const plainMerge = (lags: readonly number[]) => {
  const marks = lags.map(() => Number.NEGATIVE_INFINITY);
  let waiting: Waiting[] = [];
  let released = Number.NEGATIVE_INFINITY;
  let order = 0;
  return {
    push(source: number, rows: readonly Reading[], now: number): void {
      for (const row of rows) {
        const late = row.at.latest <= released;
        const { signal, response, flags, at } = row;
        const placed: Reading = late
          ? {
              signal,
              response,
              flags,
              at: { earliest: at.earliest, latest: instant(released + 1) },
              absent: 'late',
            }
          : row;
        waiting.push({ row: placed, source, order });
        order += 1;
      }
      marks[source] = Math.max(marks[source] ?? 0, now - (lags[source] ?? 0));
    },
    release(until = Math.min(...marks)): Reading[] {
      waiting.sort((a, b) => a.row.at.latest - b.row.at.latest || a.source - b.source || a.order - b.order);
      const ready = waiting.filter(({ row }) => row.at.latest <= until);
      waiting = waiting.filter(({ row }) => row.at.latest > until);
      released = Math.max(released, Number.isFinite(until) ? until : released);
      released = Math.max(released, ready.at(-1)?.row.at.latest ?? released);
      return ready.map(({ row }) => row);
    },
  };
};

const answers = fc.array(
  fc.record({
    source: fc.nat(2),
    step: fc.nat(30),
    ago: fc.array(fc.nat(60), { maxLength: 12 }),
    release: fc.boolean(),
  }),
  { maxLength: 60 },
);

/** Enough of them that what was handed on is cleared away while others wait. */
const many = (length: number): { source: number; step: number; ago: number[]; release: boolean }[] =>
  Array.from({ length }, (_, index) => ({
    source: index % 3,
    step: 7,
    ago: Array.from({ length: 40 }, (__, row) => (row * 13 + index) % 55),
    release: true,
  }));

type Answers = readonly { source: number; step: number; ago: readonly number[]; release: boolean }[];

const play = (all: Answers): { ours: Reading[]; plain: Reading[] } => {
  const lags = [0, 20, 45];
  const merge = createMerge(lags);
  const other = plainMerge(lags);
  const ours: Reading[] = [];
  const plain: Reading[] = [];
  let now = 1_000;
  let signal = 0;
  for (const { source, step, ago, release } of all) {
    now += step;
    const rows = ago.map((back): Reading => {
      signal += 1;
      const at = { earliest: instant(now - back - 5), latest: instant(now - back) };
      const base = { signal: signal as SignalId, at, response: signal % 7, flags: signal % 5 };
      return signal % 4 === 0
        ? { ...base, absent: 'timed-out' }
        : { ...base, value: { low: signal, high: signal + 1 } };
    });
    merge.push(source, columnsOf(rows), now);
    other.push(source, rows, now);
    if (!release) continue;
    ours.push(...rowsIn(merge.release()));
    plain.push(...other.release());
  }
  ours.push(...rowsIn(merge.flush()));
  plain.push(...other.release(Number.POSITIVE_INFINITY));
  return { ours, plain };
};

test('whatever comes in whatever order is handed on as by the plainest merge', () => {
  fc.assert(
    fc.property(answers, (all) => {
      const { ours, plain } = play(all);
      expect(ours).toEqual(plain);
    }),
    { seed: 4, numRuns: 300 },
  );
  const { ours, plain } = play(many(200));
  expect(ours).toEqual(plain);
  expect(ours.filter(({ absent }) => absent === 'late').length).toBeGreaterThan(0);
});
