import {
  absenceIndex,
  addCopy,
  dropFirst,
  type Filling,
  type Micros,
  newReadings,
  partOf,
  type Readings,
} from '../measure/index.ts';

/**
 * Brings the sources into one order: by latest instant, then source, then arrival. Waits for the slowest source's
 * watermark; what comes behind what was already handed on is late, and counts as no value at the moment it came.
 */
export interface Merge {
  push(source: number, rows: Readings, now: number): void;
  /** From now on the source may take so long to tell what has been. */
  wait(source: number, lag: Micros): void;
  /** What no source can precede any more. To be used before anything else is asked for: the rows are written over. */
  release(): Readings;
  /** Everything that waits; at an end. */
  flush(): Readings;
  /** Up to where everything has been handed on. */
  watermark(): number;
}

/** Rows that wait, in the order of arrival, with the source of each: a hundred thousand come by in a second. */
interface Waiting {
  readonly rows: Filling;
  sources: Uint32Array;
}

const newWaiting = (): Waiting => ({ rows: newReadings(0), sources: new Uint32Array(0) });

const add = (to: Waiting, from: Readings, index: number, source: number): void => {
  addCopy(to.rows, from, index);
  if (to.sources.length < to.rows.signal.length) {
    const sources = new Uint32Array(to.rows.signal.length);
    sources.set(to.sources);
    to.sources = sources;
  }
  to.sources[to.rows.length - 1] = source;
};

const put = (to: Waiting, from: Waiting, index: number): void =>
  add(to, from.rows, index, from.sources[index] ?? 0);

const compare = (a: Waiting, i: number, b: Waiting, j: number): number =>
  (a.rows.latest[i] ?? 0) - (b.rows.latest[j] ?? 0) || (a.sources[i] ?? 0) - (b.sources[j] ?? 0);

/** One source after the other brings its rows in order: then nothing has to be sorted. */
const inOrder = (waiting: Waiting): boolean => {
  for (let index = 1; index < waiting.rows.length; index += 1)
    if (compare(waiting, index - 1, waiting, index) > 0) return false;
  return true;
};

/** Rows of one instant and source stay as they came. */
const sorted = (waiting: Waiting): Waiting => {
  if (inOrder(waiting)) return waiting;
  const found = newWaiting();
  const places = Array.from({ length: waiting.rows.length }, (_, index) => index);
  places.sort((i, j) => compare(waiting, i, waiting, j) || i - j);
  for (const index of places) put(found, waiting, index);
  return found;
};

/** What waits, in order; taken from the front, so that a long wait costs no more than a short one. */
const createQueue = () => {
  const waiting = newWaiting();
  const tail = newWaiting();
  let head = 0;
  /** What was taken is in use until something is added. */
  const forget = (): void => {
    const { rows, sources } = waiting;
    if (head < rows.length && (head <= 1_024 || head <= rows.length / 2)) return;
    sources.copyWithin(0, head, rows.length);
    dropFirst(rows, head);
    head = 0;
  };
  return {
    /** `fresh` in order. Mostly newer than what waits: only the part that overlaps is put in order anew. */
    add(fresh: Waiting): void {
      const { length } = fresh.rows;
      if (length === 0) return;
      forget();
      const { rows } = waiting;
      let from = rows.length;
      while (from > head && compare(waiting, from - 1, fresh, 0) > 0) from -= 1;
      tail.rows.length = 0;
      for (let index = from; index < rows.length; index += 1) put(tail, waiting, index);
      rows.length = from;
      let old = 0;
      for (let index = 0; index < length; index += 1) {
        for (; old < tail.rows.length && compare(tail, old, fresh, index) <= 0; old += 1)
          put(waiting, tail, old);
        put(waiting, fresh, index);
      }
      for (; old < tail.rows.length; old += 1) put(waiting, tail, old);
    },
    /** Those up to this instant. */
    take(until: number): Readings {
      const first = head;
      const { rows } = waiting;
      while (head < rows.length && (rows.latest[head] ?? 0) <= until) head += 1;
      return partOf(rows, first, head);
    },
  };
};

const LATE = absenceIndex('late');

/** `known[i]`: how long source i may take to tell what has been (µs); undefined: the source takes no part. */
export const createMerge = (known: readonly (Micros | undefined)[]): Merge => {
  const lags = [...known];
  const marks = lags.map((lag) => (lag === undefined ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY));
  const queue = createQueue();
  const fresh = newWaiting();
  let released = Number.NEGATIVE_INFINITY;

  const take = (until: number): Readings => {
    queue.add(sorted(fresh));
    fresh.rows.length = 0;
    const ready = queue.take(until);
    if (until > released && Number.isFinite(until)) released = until;
    if (ready.length > 0) released = Math.max(released, ready.latest[ready.length - 1] ?? released);
    return ready;
  };

  /** Too late to be placed where it belongs. */
  const delay = ({ rows }: Waiting, index: number): void => {
    rows.why[index] = LATE;
    rows.low[index] = 0;
    rows.high[index] = 0;
    rows.earliest[index] = Math.floor(rows.earliest[index] ?? 0);
    rows.latest[index] = Math.ceil(released + 1);
  };

  return {
    push(source, rows, now) {
      for (let index = 0; index < rows.length; index += 1) {
        add(fresh, rows, index, source);
        if ((rows.latest[index] ?? 0) <= released) delay(fresh, fresh.rows.length - 1);
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
