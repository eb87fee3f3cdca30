import { type Micros, type Reading, spanOf } from '../measure/index.ts';

/**
 * Brings the sources into one order: by latest instant, then source, then arrival. Waits for the slowest source's
 * watermark; what comes behind what was already handed on is late, and counts as no value at the moment it came.
 */
export interface Merge {
  push(source: number, rows: readonly Reading[], now: number): void;
  /** From now on the source may take so long to tell what has been. */
  wait(source: number, lag: Micros): void;
  /** What no source can precede any more. */
  release(): Reading[];
  /** Everything that waits; at an end. */
  flush(): Reading[];
  /** Up to where everything has been handed on. */
  watermark(): number;
}

interface Waiting {
  readonly row: Reading;
  readonly source: number;
  readonly order: number;
}

const byOrder = (a: Waiting, b: Waiting): number =>
  a.row.at.latest - b.row.at.latest || a.source - b.source || a.order - b.order;

/** One source after the other brings its rows in order: then nothing has to be sorted. */
const inOrder = (rows: readonly Waiting[]): boolean => {
  for (let index = 1; index < rows.length; index += 1) {
    const [before, after] = [rows[index - 1], rows[index]];
    if (before !== undefined && after !== undefined && byOrder(before, after) > 0) return false;
  }
  return true;
};

/** `known[i]`: how long source i may take to tell what has been (µs); undefined: the source takes no part. */
export const createMerge = (known: readonly (Micros | undefined)[]): Merge => {
  const lags = [...known];
  const marks = lags.map((lag) => (lag === undefined ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY));
  let waiting: Waiting[] = [];
  let released = Number.NEGATIVE_INFINITY;
  let order = 0;

  const take = (until: number): Reading[] => {
    if (!inOrder(waiting)) waiting.sort(byOrder);
    const end = waiting.findIndex(({ row }) => row.at.latest > until);
    const ready = end < 0 ? waiting : waiting.slice(0, end);
    waiting = end < 0 ? [] : waiting.slice(end);
    if (until > released && Number.isFinite(until)) released = until;
    for (const { row } of ready) released = Math.max(released, row.at.latest);
    return ready.map(({ row }) => row);
  };

  const punctual = (row: Reading): Reading => {
    if (row.at.latest > released) return row;
    const { signal, response, flags } = row;
    return { signal, response, flags, at: spanOf(row.at.earliest, released + 1), absent: 'late' };
  };

  return {
    push(source, rows, now) {
      for (const row of rows) {
        waiting.push({ row: punctual(row), source, order });
        order += 1;
      }
      marks[source] = Math.max(marks[source] ?? 0, now - (lags[source] ?? 0));
    },
    wait(source, lag) {
      lags[source] = lag;
    },
    release: () => take(Math.min(...marks)),
    flush: () => take(Number.POSITIVE_INFINITY),
    watermark: () => Math.min(...marks),
  };
};
