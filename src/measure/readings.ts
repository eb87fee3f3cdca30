import { type Absence, absenceAt, absenceIndex } from './absence.ts';
import type { Instant, Span } from './instant.ts';
import type { Interval } from './interval.ts';

/** Index of a signal in the resolved site. */
export type SignalId = number & { readonly id: 'signal' };

/** What a reading carries beside its value; bits of `flags`. */
export const FLAGS = {
  /** The controller or server says that the value was forced, overridden, substituted or simulated. */
  forced: 1,
  /** Values between the last reading and this one were lost. */
  overflow: 2,
  /** The server calls the value uncertain. */
  uncertain: 4,
} as const;

/** What is known of a signal at a time: a value with bounds, or the reason why there is none. */
export interface Reading {
  readonly signal: SignalId;
  readonly at: Span;
  /** Readings of one answer of a scan-consistent source share an instant; 0: none shared. */
  readonly response: number;
  readonly flags: number;
  readonly value?: Interval;
  readonly absent?: Absence;
}

/** The same in columns, sorted by (latest, order of arrival). Transferable between threads. */
export interface Readings {
  /** Rows that count; the columns may have room for more. */
  readonly length: number;
  readonly signal: Uint32Array;
  /** Index into ABSENCES; 0: there is a value. */
  readonly why: Uint8Array;
  readonly flags: Uint8Array;
  readonly response: Uint32Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** Microseconds since 1970. */
  readonly earliest: Float64Array;
  readonly latest: Float64Array;
}

/** Columns of zeros, to be filled. */
export const newReadings = (length: number): Readings => ({
  length,
  signal: new Uint32Array(length),
  why: new Uint8Array(length),
  flags: new Uint8Array(length),
  response: new Uint32Array(length),
  low: new Float64Array(length),
  high: new Float64Array(length),
  earliest: new Float64Array(length),
  latest: new Float64Array(length),
});

/** Rows `from` up to but not including `to`, as a view on the same columns. */
export const partOf = (columns: Readings, from: number, to: number): Readings => ({
  length: to - from,
  signal: columns.signal.subarray(from, to),
  why: columns.why.subarray(from, to),
  flags: columns.flags.subarray(from, to),
  response: columns.response.subarray(from, to),
  low: columns.low.subarray(from, to),
  high: columns.high.subarray(from, to),
  earliest: columns.earliest.subarray(from, to),
  latest: columns.latest.subarray(from, to),
});

/** Columns that are filled, emptied (`length = 0`) and filled again: what they hold is to be used before that. */
export type Filling = { -readonly [Name in keyof Readings]: Readings[Name] };

const widen = <Column extends Float64Array | Uint32Array | Uint8Array>(from: Column, to: Column): Column => {
  to.set(from);
  return to;
};

const ROOM = 64;

const grow = (filling: Filling): void => {
  const found = newReadings(Math.max(ROOM, filling.signal.length * 2));
  filling.signal = widen(filling.signal, found.signal);
  filling.why = widen(filling.why, found.why);
  filling.flags = widen(filling.flags, found.flags);
  filling.response = widen(filling.response, found.response);
  filling.low = widen(filling.low, found.low);
  filling.high = widen(filling.high, found.high);
  filling.earliest = widen(filling.earliest, found.earliest);
  filling.latest = widen(filling.latest, found.latest);
};

/** Makes room for a row behind the others; returns its place, which may hold what was there before. */
const nextPlace = (filling: Filling): number => {
  const place = filling.length;
  if (place === filling.signal.length) grow(filling);
  filling.length = place + 1;
  return place;
};

/** Adds a row of this signal, instant, answer and flags without a value; returns its place, where one can be written. */
export const addRow = (
  filling: Filling,
  signal: number,
  earliest: number,
  latest: number,
  response: number,
  flags: number,
): number => {
  const index = nextPlace(filling);
  filling.signal[index] = signal;
  filling.why[index] = 0;
  filling.flags[index] = flags;
  filling.response[index] = response;
  filling.low[index] = 0;
  filling.high[index] = 0;
  filling.earliest[index] = earliest;
  filling.latest[index] = latest;
  return index;
};

/** Writes a copy of row `index` over row `place`. */
export const putCopy = (filling: Filling, place: number, from: Readings, index: number): void => {
  filling.signal[place] = from.signal[index] ?? 0;
  filling.why[place] = from.why[index] ?? 0;
  filling.flags[place] = from.flags[index] ?? 0;
  filling.response[place] = from.response[index] ?? 0;
  filling.low[place] = from.low[index] ?? 0;
  filling.high[place] = from.high[index] ?? 0;
  filling.earliest[place] = from.earliest[index] ?? 0;
  filling.latest[place] = from.latest[index] ?? 0;
};

/** Adds a copy of a row. */
export const addCopy = (filling: Filling, from: Readings, index: number): void =>
  putCopy(filling, nextPlace(filling), from, index);

/** Takes so many rows away at the front. */
export const dropFirst = (filling: Filling, count: number): void => {
  const { length } = filling;
  filling.signal.copyWithin(0, count, length);
  filling.why.copyWithin(0, count, length);
  filling.flags.copyWithin(0, count, length);
  filling.response.copyWithin(0, count, length);
  filling.low.copyWithin(0, count, length);
  filling.high.copyWithin(0, count, length);
  filling.earliest.copyWithin(0, count, length);
  filling.latest.copyWithin(0, count, length);
  filling.length = length - count;
};

/** Rows to columns. Order is kept. */
export const columnsOf = (rows: readonly Reading[]): Readings => {
  const columns: Filling = newReadings(rows.length);
  columns.length = 0;
  for (const { signal, at, response, flags, value, absent } of rows) {
    const index = addRow(columns, signal, at.earliest, at.latest, response, flags);
    columns.low[index] = value?.low ?? 0;
    columns.high[index] = value?.high ?? 0;
    columns.why[index] = absent === undefined ? 0 : absenceIndex(absent);
  }
  return columns;
};

/** One row of the columns; undefined past the end. */
export const readingAt = (columns: Readings, index: number): Reading | undefined => {
  if (index < 0 || index >= columns.length) return undefined;
  const absent = absenceAt(columns.why[index] ?? 0);
  const base = {
    signal: (columns.signal[index] ?? 0) as SignalId,
    at: {
      earliest: (columns.earliest[index] ?? 0) as Instant,
      latest: (columns.latest[index] ?? 0) as Instant,
    },
    response: columns.response[index] ?? 0,
    flags: columns.flags[index] ?? 0,
  };
  return absent === undefined
    ? { ...base, value: { low: columns.low[index] ?? 0, high: columns.high[index] ?? 0 } }
    : { ...base, absent };
};

/** Columns to rows. */
export const rowsIn = (columns: Readings): Reading[] =>
  Array.from({ length: columns.length }, (_, index) => readingAt(columns, index)).filter(
    (row) => row !== undefined,
  );
