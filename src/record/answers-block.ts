import { type Absence, absenceAt, absenceIndex, type Instant, type SignalId } from '../measure/index.ts';
import type { Answer, Item } from '../signal/index.ts';
import {
  getByte,
  getCount,
  getDouble,
  getSigned,
  putByte,
  putCount,
  putDouble,
  putSigned,
  type Reader,
  type Writer,
} from './bytes.ts';
import {
  hasFailed,
  isSpent,
  newColumns,
  packColumns,
  type Readers,
  unpackColumns,
  type Writers,
} from './columns.ts';

/** Encoding of a block of answers; a new one gets a new name, and this one stays readable. */
export const ANSWERS = 'tw-answers-1';

const VERSION = 1;
const KINDS = { words: 0, nothing: 1, items: 2 } as const;
/** `time`: sent, or received where nothing was sent. `took`: from sent to received. */
const COLUMNS = [
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
type Column = (typeof COLUMNS)[number];
type Out = Writers<Column>;
type In = Readers<Column>;

/** A response of the Modbus Application Protocol has at most 2,000 bits; more is not an answer. */
const MOST_WORDS = 4_096;

/** What the next answer is told against: times, and the words of the same request. */
interface Past {
  time: number;
  stamp: number;
  readonly words: Map<number, readonly number[]>;
}

const newPast = (): Past => ({ time: 0, stamp: 0, words: new Map() });

const putTime = (out: Out, past: Past, time: number): void => {
  putSigned(out.time, time - past.time);
  past.time = time;
};

const getTime = (from: In, past: Past): Instant => {
  past.time += getSigned(from.time);
  return past.time as Instant;
};

const putStamp = (out: Out, past: Past, time: number): void => {
  putSigned(out.stamp, time - past.stamp);
  past.stamp = time;
};

const getStamp = (from: In, past: Past): Instant => {
  past.stamp += getSigned(from.stamp);
  return past.stamp as Instant;
};

const getWhy = (reader: Reader): Absence | undefined => {
  const why = absenceAt(getByte(reader));
  if (why === undefined) reader.failed = true;
  return why;
};

/** Pairs of (unchanged words skipped, difference), closed by the count of unchanged words at the end. */
const putWords = (writer: Writer, words: readonly number[], before: readonly number[]): void => {
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

const getWords = (reader: Reader, before: readonly number[]): number[] => {
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

/** Bits of `says`: which fields of an item are there. */
const SAYS = { value: 1, source: 2, server: 4, unchanged: 8, changed: 16, why: 32 } as const;
const MOST_SAYS = 63;

const saysOf = (item: Item): number =>
  (item.value === null ? 0 : SAYS.value) |
  (item.sourceTime === undefined ? 0 : SAYS.source) |
  (item.serverTime === undefined ? 0 : SAYS.server) |
  (item.unchanged === true ? SAYS.unchanged : 0) |
  (item.unchanged === false ? SAYS.changed : 0) |
  (item.why === undefined ? 0 : SAYS.why);

const putItem = (out: Out, past: Past, item: Item): void => {
  putByte(out.says, saysOf(item));
  putCount(out.signal, item.signal);
  putSigned(out.status, item.status);
  if (item.value !== null) putDouble(out.value, item.value);
  if (item.sourceTime !== undefined) putStamp(out, past, item.sourceTime);
  if (item.serverTime !== undefined) putStamp(out, past, item.serverTime);
  if (item.why !== undefined) putByte(out.why, absenceIndex(item.why));
};

const getItem = (from: In, past: Past): Item => {
  const says = getByte(from.says);
  const has = (bit: number): boolean => (says & bit) !== 0;
  if (says > MOST_SAYS || (has(SAYS.unchanged) && has(SAYS.changed))) from.says.failed = true;
  const signal = getCount(from.signal) as SignalId;
  const status = getSigned(from.status);
  const value = has(SAYS.value) ? getDouble(from.value) : null;
  const sourceTime = has(SAYS.source) ? getStamp(from, past) : undefined;
  const serverTime = has(SAYS.server) ? getStamp(from, past) : undefined;
  const why = has(SAYS.why) ? getWhy(from.why) : undefined;
  return {
    signal,
    status,
    value,
    ...(sourceTime !== undefined && { sourceTime }),
    ...(serverTime !== undefined && { serverTime }),
    ...(has(SAYS.unchanged) && { unchanged: true }),
    ...(has(SAYS.changed) && { unchanged: false }),
    ...(why !== undefined && { why }),
  };
};

const putAnswer = (out: Out, past: Past, answer: Answer): void => {
  if (answer.kind === 'terms' || answer.kind === 'clock') throw new RangeError('not in this encoding');
  putByte(out.kind, KINDS[answer.kind]);
  putCount(out.source, answer.source);
  if (answer.kind === 'items') {
    putTime(out, past, answer.received);
    putCount(out.items, answer.items.length);
    for (const item of answer.items) putItem(out, past, item);
    return;
  }
  putCount(out.request, answer.request);
  putTime(out, past, answer.sent);
  putSigned(out.took, answer.received - answer.sent);
  if (answer.kind === 'nothing') {
    putByte(out.why, absenceIndex(answer.why));
    putCount(out.code, answer.code);
    return;
  }
  putWords(out.words, answer.words, past.words.get(answer.request) ?? []);
  past.words.set(answer.request, answer.words);
};

const getItems = (from: In, past: Past): Item[] => {
  const count = getCount(from.items);
  const items: Item[] = [];
  while (items.length < count && !hasFailed(from)) items.push(getItem(from, past));
  return items;
};

const getAnswer = (from: In, past: Past): Answer | undefined => {
  const kind = getByte(from.kind);
  const source = getCount(from.source);
  if (kind === KINDS.items)
    return { kind: 'items', source, received: getTime(from, past), items: getItems(from, past) };
  const request = getCount(from.request);
  const sent = getTime(from, past);
  const received = (sent + getSigned(from.took)) as Instant;
  if (kind === KINDS.nothing) {
    const why = getWhy(from.why);
    const code = getCount(from.code);
    return why && { kind: 'nothing', source, request, sent, received, why, code };
  }
  if (kind !== KINDS.words) {
    from.kind.failed = true;
    return undefined;
  }
  const words = getWords(from.words, past.words.get(request) ?? []);
  past.words.set(request, words);
  return { kind: 'words', source, request, sent, received, words };
};

/**
 * Answers as received, in their order, column by column; times and words are told as differences.
 * Throws a RangeError for what is no answer: a fraction of a microsecond or of a register, a negative number of a source.
 */
export const encodeAnswers = (answers: readonly Answer[]): Uint8Array => {
  const out = newColumns(COLUMNS);
  const past = newPast();
  for (const answer of answers) putAnswer(out, past, answer);
  return packColumns(VERSION, answers.length, COLUMNS, out);
};

/**
 * Undefined for bytes that `encodeAnswers` did not write: another version, cut short, or with something behind.
 * Never throws.
 */
export const decodeAnswers = (bytes: Uint8Array): Answer[] | undefined => {
  const unpacked = unpackColumns(VERSION, COLUMNS, bytes);
  if (unpacked === undefined) return undefined;
  const { rows, columns } = unpacked;
  const past = newPast();
  const answers: Answer[] = [];
  while (answers.length < rows) {
    const answer = getAnswer(columns, past);
    if (answer === undefined || hasFailed(columns)) return undefined;
    answers.push(answer);
  }
  return isSpent(columns) ? answers : undefined;
};
