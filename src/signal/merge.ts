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

/** What waits, in order; taken from the front, so that a long wait costs no more than a short one. */
const createQueue = () => {
  let rows: Waiting[] = [];
  let head = 0;
  return {
    /** `fresh` in order. Mostly newer than what waits: only the part that overlaps is put in order anew. */
    add(fresh: readonly Waiting[]): void {
      const [first] = fresh;
      if (first === undefined) return;
      let from = rows.length;
      while (from > head && byOrder(rows[from - 1] as Waiting, first) > 0) from -= 1;
      const tail = rows.splice(from);
      let old = 0;
      for (const one of fresh) {
        for (; old < tail.length && byOrder(tail[old] as Waiting, one) <= 0; old += 1)
          rows.push(tail[old] as Waiting);
        rows.push(one);
      }
      for (; old < tail.length; old += 1) rows.push(tail[old] as Waiting);
    },
    /** Those up to this instant. */
    take(until: number): Reading[] {
      const ready: Reading[] = [];
      for (; head < rows.length; head += 1) {
        const { row } = rows[head] as Waiting;
        if (row.at.latest > until) break;
        ready.push(row);
      }
      if (head > 1_024 && head > rows.length / 2) {
        rows = rows.slice(head);
        head = 0;
      }
      return ready;
    },
  };
};

/** `known[i]`: how long source i may take to tell what has been (µs); undefined: the source takes no part. */
export const createMerge = (known: readonly (Micros | undefined)[]): Merge => {
  const lags = [...known];
  const marks = lags.map((lag) => (lag === undefined ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY));
  const queue = createQueue();
  let fresh: Waiting[] = [];
  let released = Number.NEGATIVE_INFINITY;
  let order = 0;

  const take = (until: number): Reading[] => {
    if (!inOrder(fresh)) fresh.sort(byOrder);
    queue.add(fresh);
    fresh = [];
    const ready = queue.take(until);
    if (until > released && Number.isFinite(until)) released = until;
    released = Math.max(released, ready.at(-1)?.at.latest ?? released);
    return ready;
  };

  const punctual = (row: Reading): Reading => {
    if (row.at.latest > released) return row;
    const { signal, response, flags } = row;
    return { signal, response, flags, at: spanOf(row.at.earliest, released + 1), absent: 'late' };
  };

  return {
    push(source, rows, now) {
      for (const row of rows) {
        fresh.push({ row: punctual(row), source, order });
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
