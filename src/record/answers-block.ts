import { absenceAt, absenceIndex, type Instant, type SignalId } from '../measure/index.ts';
import type { Answer, Item } from '../signal/index.ts';
import {
  getByte,
  getCount,
  getDouble,
  getSigned,
  newReader,
  newWriter,
  putByte,
  putCount,
  putDouble,
  putSigned,
  type Reader,
  type Writer,
  written,
} from './bytes.ts';

/** Encoding of a block of answers; a new one gets a new name, and this one stays readable. */
export const ANSWERS = 'tw-answers-1';

const VERSION = 1;
const KINDS = { words: 0, nothing: 1, items: 2 } as const;

/** What the next answer is told against: times, and the words of the same request. */
interface Past {
  time: number;
  readonly words: Map<number, readonly number[]>;
}

const newPast = (): Past => ({ time: 0, words: new Map() });

const putTime = (writer: Writer, past: Past, time: number): void => {
  putSigned(writer, time - past.time);
  past.time = time;
};

const getTime = (reader: Reader, past: Past): Instant => {
  past.time += getSigned(reader);
  return past.time as Instant;
};

/** Unchanged words cost nothing: pairs of (skipped, difference) up to a closing count of the rest. */
const putWords = (writer: Writer, words: readonly number[], before: readonly number[]): void => {
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
  if (length > 4_096) reader.failed = true;
  const words: number[] = [];
  while (words.length < length && !reader.failed) {
    let same = getCount(reader);
    for (; same > 0 && words.length < length; same -= 1) words.push(before[words.length] ?? 0);
    if (same > 0) reader.failed = true;
    if (words.length < length) words.push((before[words.length] ?? 0) + getSigned(reader));
  }
  return words;
};

const SAYS = { value: 1, source: 2, server: 4, unchanged: 8, why: 16 } as const;

const putItem = (writer: Writer, past: Past, item: Item): void => {
  const says =
    (item.value === null ? 0 : SAYS.value) |
    (item.sourceTime === undefined ? 0 : SAYS.source) |
    (item.serverTime === undefined ? 0 : SAYS.server) |
    (item.unchanged === true ? SAYS.unchanged : 0) |
    (item.why === undefined ? 0 : SAYS.why);
  putByte(writer, says);
  putCount(writer, item.signal);
  putSigned(writer, item.status);
  if (item.value !== null) putDouble(writer, item.value);
  if (item.sourceTime !== undefined) putTime(writer, past, item.sourceTime);
  if (item.serverTime !== undefined) putTime(writer, past, item.serverTime);
  if (item.why !== undefined) putByte(writer, absenceIndex(item.why));
};

const getItem = (reader: Reader, past: Past): Item => {
  const says = getByte(reader);
  const signal = getCount(reader) as SignalId;
  const status = getSigned(reader);
  const value = (says & SAYS.value) === 0 ? null : getDouble(reader);
  const sourceTime = (says & SAYS.source) === 0 ? undefined : getTime(reader, past);
  const serverTime = (says & SAYS.server) === 0 ? undefined : getTime(reader, past);
  const why = (says & SAYS.why) === 0 ? undefined : absenceAt(getByte(reader));
  return {
    signal,
    status,
    value,
    ...(sourceTime !== undefined && { sourceTime }),
    ...(serverTime !== undefined && { serverTime }),
    ...((says & SAYS.unchanged) !== 0 && { unchanged: true }),
    ...(why !== undefined && { why }),
  };
};

const putAnswer = (writer: Writer, past: Past, answer: Answer): void => {
  putByte(writer, KINDS[answer.kind]);
  putCount(writer, answer.source);
  if (answer.kind === 'items') {
    putTime(writer, past, answer.received);
    putCount(writer, answer.items.length);
    for (const item of answer.items) putItem(writer, past, item);
    return;
  }
  putCount(writer, answer.request);
  putTime(writer, past, answer.sent);
  putTime(writer, past, answer.received);
  if (answer.kind === 'nothing') {
    putByte(writer, absenceIndex(answer.why));
    putCount(writer, answer.code);
    return;
  }
  putWords(writer, answer.words, past.words.get(answer.request) ?? []);
  past.words.set(answer.request, answer.words);
};

const getAnswer = (reader: Reader, past: Past): Answer | undefined => {
  const kind = getByte(reader);
  const source = getCount(reader);
  if (kind === KINDS.items) {
    const received = getTime(reader, past);
    const count = getCount(reader);
    const items: Item[] = [];
    for (let index = 0; index < count && !reader.failed; index += 1) items.push(getItem(reader, past));
    return { kind: 'items', source, received, items };
  }
  const request = getCount(reader);
  const sent = getTime(reader, past);
  const received = getTime(reader, past);
  if (kind === KINDS.nothing) {
    const why = absenceAt(getByte(reader));
    const code = getCount(reader);
    if (why === undefined) reader.failed = true;
    return why && { kind: 'nothing', source, request, sent, received, why, code };
  }
  if (kind !== KINDS.words) {
    reader.failed = true;
    return undefined;
  }
  const words = getWords(reader, past.words.get(request) ?? []);
  past.words.set(request, words);
  return { kind: 'words', source, request, sent, received, words };
};

/** Answers as received, in their order. Times and words are told as differences. */
export const encodeAnswers = (answers: readonly Answer[]): Uint8Array => {
  const writer = newWriter();
  const past = newPast();
  putByte(writer, VERSION);
  putCount(writer, answers.length);
  for (const answer of answers) putAnswer(writer, past, answer);
  return written(writer);
};

/** Undefined for bytes that `encodeAnswers` did not write: another version, cut short, or with something behind. */
export const decodeAnswers = (bytes: Uint8Array): Answer[] | undefined => {
  const reader = newReader(bytes);
  const past = newPast();
  if (getByte(reader) !== VERSION) return undefined;
  const count = getCount(reader);
  const answers: Answer[] = [];
  for (let index = 0; index < count && !reader.failed; index += 1) {
    const answer = getAnswer(reader, past);
    if (answer !== undefined) answers.push(answer);
  }
  return reader.failed || reader.at !== bytes.length ? undefined : answers;
};
