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

/** Rows that wait, with the source and the order of arrival of each. Columns: a hundred thousand come by in a second. */
interface Waiting {
  rows: Reading[];
  sources: number[];
  orders: number[];
}

const newWaiting = (): Waiting => ({ rows: [], sources: [], orders: [] });

const put = (to: Waiting, from: Waiting, index: number): void => {
  to.rows.push(from.rows[index] as Reading);
  to.sources.push(from.sources[index] ?? 0);
  to.orders.push(from.orders[index] ?? 0);
};

const compare = (a: Waiting, i: number, b: Waiting, j: number): number =>
  (a.rows[i]?.at.latest ?? 0) - (b.rows[j]?.at.latest ?? 0) ||
  (a.sources[i] ?? 0) - (b.sources[j] ?? 0) ||
  (a.orders[i] ?? 0) - (b.orders[j] ?? 0);

/** One source after the other brings its rows in order: then nothing has to be sorted. */
const inOrder = (waiting: Waiting): boolean => {
  for (let index = 1; index < waiting.rows.length; index += 1)
    if (compare(waiting, index - 1, waiting, index) > 0) return false;
  return true;
};

const sorted = (waiting: Waiting): Waiting => {
  if (inOrder(waiting)) return waiting;
  const found = newWaiting();
  const places = waiting.rows.map((_, index) => index).sort((i, j) => compare(waiting, i, waiting, j));
  for (const index of places) put(found, waiting, index);
  return found;
};

/** What waits, in order; taken from the front, so that a long wait costs no more than a short one. */
const createQueue = () => {
  let waiting = newWaiting();
  let head = 0;
  return {
    /** `fresh` in order. Mostly newer than what waits: only the part that overlaps is put in order anew. */
    add(fresh: Waiting): void {
      const { length } = fresh.rows;
      if (length === 0) return;
      let from = waiting.rows.length;
      while (from > head && compare(waiting, from - 1, fresh, 0) > 0) from -= 1;
      const tail: Waiting = {
        rows: waiting.rows.splice(from),
        sources: waiting.sources.splice(from),
        orders: waiting.orders.splice(from),
      };
      let old = 0;
      for (let index = 0; index < length; index += 1) {
        for (; old < tail.rows.length && compare(tail, old, fresh, index) <= 0; old += 1)
          put(waiting, tail, old);
        put(waiting, fresh, index);
      }
      for (; old < tail.rows.length; old += 1) put(waiting, tail, old);
    },
    /** Those up to this instant. */
    take(until: number): Reading[] {
      const first = head;
      const { rows } = waiting;
      while (head < rows.length && (rows[head] as Reading).at.latest <= until) head += 1;
      const ready = rows.slice(first, head);
      if (head === rows.length) waiting = newWaiting();
      else if (head > 1_024 && head > rows.length / 2) {
        const { sources, orders } = waiting;
        waiting = { rows: rows.slice(head), sources: sources.slice(head), orders: orders.slice(head) };
      } else return ready;
      head = 0;
      return ready;
    },
  };
};

/** `known[i]`: how long source i may take to tell what has been (µs); undefined: the source takes no part. */
export const createMerge = (known: readonly (Micros | undefined)[]): Merge => {
  const lags = [...known];
  const marks = lags.map((lag) => (lag === undefined ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY));
  const queue = createQueue();
  let fresh = newWaiting();
  let released = Number.NEGATIVE_INFINITY;
  let order = 0;

  const take = (until: number): Reading[] => {
    queue.add(sorted(fresh));
    fresh = newWaiting();
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
        fresh.rows.push(punctual(row));
        fresh.sources.push(source);
        fresh.orders.push(order);
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
