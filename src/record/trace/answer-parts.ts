import { type Absence, absenceAt, type Instant } from '../../measure/index.ts';
import { getByte, getCount, getSigned, putCount, putSigned, type Reader, type Writer } from './bytes.ts';
import type { Readers, Writers } from './columns.ts';

/** `time`: sent, or received where nothing was sent. `took`: from sent to received. `stamp`: what their clocks show. */
export const COLUMNS = [
  'kind',
  'source',
  'request',
  'time',
  'took',
  'words',
  'why',
  'code',
  'items',
  'says',
  'signal',
  'status',
  'value',
  'stamp',
] as const;
export const MORE_COLUMNS = [...COLUMNS, 'piece', 'text', 'granted'] as const;
export type Out = Writers<(typeof MORE_COLUMNS)[number]>;
export type In = Readers<(typeof COLUMNS)[number]>;
export type MoreIn = Readers<(typeof MORE_COLUMNS)[number]>;

/** What was last told of an item. */
export interface Told {
  readonly status: number;
  readonly value: number | null;
}

/** What the next answer is told against: times, the words of the same request, the last of each item. */
export interface Past {
  time: number;
  stamp: number;
  signal: number;
  readonly words: Map<number, readonly number[]>;
  readonly items: Map<number, Told>;
}

export const newPast = (): Past => ({ time: 0, stamp: 0, signal: -1, words: new Map(), items: new Map() });

export const putTime = (out: Out, past: Past, time: number): void => {
  putSigned(out.time, time - past.time);
  past.time = time;
};

export const getTime = (from: In, past: Past): Instant => {
  past.time += getSigned(from.time);
  return past.time as Instant;
};

export const putStamp = (out: Out, past: Past, time: number): void => {
  putSigned(out.stamp, time - past.stamp);
  past.stamp = time;
};

export const getStamp = (from: In, past: Past): Instant => {
  past.stamp += getSigned(from.stamp);
  return past.stamp as Instant;
};

export const getWhy = (reader: Reader): Absence | undefined => {
  const why = absenceAt(getByte(reader));
  if (why === undefined) reader.failed = true;
  return why;
};

/** A response of the Modbus Application Protocol has at most 2,000 bits; more is not an answer. */
export const MOST_WORDS = 4_096;

/** Pairs of (unchanged words skipped, difference), closed by the count of unchanged words at the end. */
export const putWords = (writer: Writer, words: readonly number[], before: readonly number[]): void => {
  if (words.length > MOST_WORDS) throw new RangeError(`${words.length} words are not one answer`);
  putCount(writer, words.length);
  let skipped = 0;
  words.forEach((word, index) => {
    const difference = word - (before[index] ?? 0);
    if (difference === 0) {
      skipped += 1;
      return;
    }
    putCount(writer, skipped);
    putSigned(writer, difference);
    skipped = 0;
  });
  if (skipped > 0) putCount(writer, skipped);
};

export const getWords = (reader: Reader, before: readonly number[]): number[] => {
  const length = getCount(reader);
  if (length > MOST_WORDS) reader.failed = true;
  const words: number[] = [];
  while (words.length < length && !reader.failed) {
    let same = getCount(reader);
    for (; same > 0 && words.length < length; same -= 1) words.push(before[words.length] ?? 0);
    if (same > 0) reader.failed = true;
    if (words.length < length) words.push((before[words.length] ?? 0) + getSigned(reader));
  }
  return words;
};
