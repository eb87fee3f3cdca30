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

/** Rows to columns. Order is kept. */
export const columnsOf = (rows: readonly Reading[]): Readings => {
  const columns = newReadings(rows.length);
  rows.forEach((row, index) => {
    columns.signal[index] = row.signal;
    columns.why[index] = row.absent === undefined ? 0 : absenceIndex(row.absent);
    columns.flags[index] = row.flags;
    columns.response[index] = row.response;
    columns.low[index] = row.value?.low ?? 0;
    columns.high[index] = row.value?.high ?? 0;
    columns.earliest[index] = row.at.earliest;
    columns.latest[index] = row.at.latest;
  });
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
