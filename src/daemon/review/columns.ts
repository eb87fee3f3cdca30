import { absenceIndex, type Reading, type Readings, type TakeRow } from '../../measure/index.ts';

/** All readings of one signal in a window, in order of time. Times in µs since 1970. */
export interface Column {
  readonly length: number;
  readonly t: Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** Index of the reason why there is no value; 0: there is one. */
  readonly why: Uint8Array;
}

/** Columns that grow. */
export interface Columns {
  add(readings: Readings): void;
  addOne(reading: Reading): void;
  /** Undefined: nothing of it was read. */
  of(signal: number): Column | undefined;
  readings(): number;
  /** From the first reading to the last; undefined: there is none. */
  span(): readonly [from: number, to: number] | undefined;
  bytes(): number;
}

const BYTES_A_ROW = 25;
const LEAST_ROWS = 256;

interface Draft {
  room: number;
  length: number;
  t: Float64Array;
  low: Float64Array;
  high: Float64Array;
  why: Uint8Array;
  /** A source told late what had been: to be put in order before it is shown. */
  late: boolean;
}

const newDraft = (room: number): Draft => ({
  room,
  length: 0,
  t: new Float64Array(room),
  low: new Float64Array(room),
  high: new Float64Array(room),
  why: new Uint8Array(room),
  late: false,
});

const widened = (draft: Draft): Draft => {
  const wide = newDraft(draft.room * 2);
  wide.t.set(draft.t);
  wide.low.set(draft.low);
  wide.high.set(draft.high);
  wide.why.set(draft.why);
  return { ...wide, length: draft.length, late: draft.late };
};

/** Rows of the same instant stay in their order. */
const sorted = (draft: Draft): Draft => {
  const places = Array.from({ length: draft.length }, (_, index) => index);
  const { t, low, high, why } = draft;
  places.sort((a, b) => (t[a] ?? 0) - (t[b] ?? 0) || a - b);
  const ordered = newDraft(draft.room);
  places.forEach((from, to) => {
    ordered.t[to] = t[from] ?? 0;
    ordered.low[to] = low[from] ?? 0;
    ordered.high[to] = high[from] ?? 0;
    ordered.why[to] = why[from] ?? 0;
  });
  return { ...ordered, length: draft.length };
};

export const createColumns = (): Columns => {
  const drafts: (Draft | undefined)[] = [];
  let count = 0;
  let bytes = 0;
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  const draftOf = (signal: number): Draft => {
    const known = drafts[signal];
    if (known !== undefined && known.length < known.room) return known;
    const draft = known === undefined ? newDraft(LEAST_ROWS) : widened(known);
    bytes += (known === undefined ? draft.room : known.room) * BYTES_A_ROW;
    drafts[signal] = draft;
    return draft;
  };
  const put = (signal: number, t: number, low: number, high: number, why: number): void => {
    const draft = draftOf(signal);
    const { length } = draft;
    draft.t[length] = t;
    draft.low[length] = low;
    draft.high[length] = high;
    draft.why[length] = why;
    if (length > 0 && t < (draft.t[length - 1] as number)) draft.late = true;
    draft.length = length + 1;
    count += 1;
    if (t < from) from = t;
    if (t > to) to = t;
  };
  return {
    add({ length, signal, latest, low, high, why }) {
      for (let row = 0; row < length; row += 1)
        put(
          signal[row] as number,
          latest[row] as number,
          low[row] as number,
          high[row] as number,
          why[row] as number,
        );
    },
    addOne({ signal, at, value, absent }) {
      const why = value === undefined ? absenceIndex(absent ?? 'not-polled') : 0;
      put(signal, at.latest, value?.low ?? 0, value?.high ?? 0, why);
    },
    of(signal) {
      const draft = drafts[signal];
      if (draft?.late !== true) return draft;
      const ordered = sorted(draft);
      drafts[signal] = ordered;
      return ordered;
    },
    readings: () => count,
    span: () => (count === 0 ? undefined : [from, to]),
    bytes: () => bytes,
  };
};

/** First row at or after `time`. */
const rowAt = ({ t, length }: Column, time: number): number => {
  let [low, high] = [0, length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((t[middle] as number) < time) low = middle + 1;
    else high = middle;
  }
  return low;
};

/** Rows from `from` to `to`, with the one before and the one behind, so that a line goes on to the edge. */
export const rowsBetween = (
  column: Column,
  { from, to }: { readonly from: number; readonly to: number },
  take: TakeRow,
): void => {
  const { t, low, high, why, length } = column;
  const first = Math.max(0, rowAt(column, from) - 1);
  const last = Math.min(length - 1, rowAt(column, to));
  for (let row = first; row <= last; row += 1)
    take(t[row] as number, low[row] as number, high[row] as number, why[row] as number);
};
