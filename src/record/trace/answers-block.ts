import { absenceIndex, type Instant, type SignalId } from '../../measure/index.ts';
import { type Answer, ELSEWHERE, type Granted, type Item } from '../../signal/index.ts';
import { getItem, getItem1, putItem } from './answer-items.ts';
import {
  COLUMNS,
  getStamp,
  getTime,
  getWhy,
  getWords,
  type In,
  MORE_COLUMNS,
  MOST_WORDS,
  type MoreIn,
  newPast,
  type Out,
  type Past,
  putStamp,
  putTime,
  putWords,
} from './answer-parts.ts';
import { getByte, getCount, getSigned, putByte, putCount, putSigned } from './bytes.ts';
import { hasFailed, isSpent, newColumns, packColumns, unpackColumns } from './columns.ts';

/** Encoding of a block of answers; a new one gets a new name, and those before it stay readable. */
export const ANSWERS = 'tw-answers-2';

const VERSION = 2;
/** `piece`: words of one piece of a request. Version 1 knew the first three. */
const KINDS = { words: 0, nothing: 1, items: 2, terms: 3, clock: 4, piece: 5 } as const;

/** The words that this answer carries, where they are one piece of the request and not all of it. */
const pieceOf = (words: readonly number[]): { from: number; to: number } | undefined => {
  const from = words.findIndex((word) => word !== ELSEWHERE);
  const to = words.findLastIndex((word) => word !== ELSEWHERE) + 1;
  if (from < 0 || to - from === words.length) return undefined;
  return words.slice(from, to).includes(ELSEWHERE) ? undefined : { from, to };
};

/** Words are told against those last known of the same request, whichever answers carried them. */
const known = (past: Past, request: number, from: number, words: readonly number[]): number[] => {
  const merged = [...(past.words.get(request) ?? [])];
  for (let index = merged.length; index < from; index += 1) merged.push(0);
  words.forEach((word, index) => {
    merged[from + index] = word;
  });
  return merged;
};

const putAllWords = (out: Out, past: Past, request: number, words: readonly number[]): void => {
  const before = past.words.get(request) ?? [];
  const piece = pieceOf(words);
  if (piece === undefined) {
    putWords(out.words, words, before);
    past.words.set(request, words);
    return;
  }
  const { from, to } = piece;
  putCount(out.piece, from);
  putCount(out.piece, words.length - to);
  const own = words.slice(from, to);
  putWords(out.words, own, before.slice(from, to));
  past.words.set(request, known(past, request, from, own));
};

const getPiece = (from: MoreIn, past: Past, request: number): number[] => {
  const first = getCount(from.piece);
  const behind = getCount(from.piece);
  if (first + behind > MOST_WORDS) from.piece.failed = true;
  if (hasFailed(from)) return [];
  const own = getWords(from.words, (past.words.get(request) ?? []).slice(first));
  past.words.set(request, known(past, request, first, own));
  const elsewhere = (count: number): number[] => Array.from({ length: count }, () => ELSEWHERE);
  return [...elsewhere(first), ...own, ...elsewhere(behind)];
};

const putTerms = (out: Out, past: Past, answer: Answer & { kind: 'terms' }): void => {
  putTime(out, past, answer.received);
  putCount(out.granted, answer.publishing);
  putCount(out.granted, answer.items.length);
  for (const { signal, sampling, queue } of answer.items) {
    putCount(out.granted, signal);
    putCount(out.granted, sampling);
    putCount(out.granted, queue);
  }
};

const getTerms = (from: MoreIn, past: Past, source: number): Answer => {
  const received = getTime(from, past);
  const publishing = getCount(from.granted);
  const length = getCount(from.granted);
  const items: Granted[] = [];
  while (items.length < length && !from.granted.failed) {
    const signal = getCount(from.granted) as SignalId;
    items.push({ signal, sampling: getCount(from.granted), queue: getCount(from.granted) });
  }
  return { kind: 'terms', source, received, publishing, items };
};

type Asked = Extract<Answer, { readonly sent: Instant }>;

/** When it was asked, and how long that took. */
const putAsked = (out: Out, past: Past, { sent, received }: Asked): void => {
  putTime(out, past, sent);
  putSigned(out.took, received - sent);
};

const getAsked = (from: In, past: Past): { sent: Instant; received: Instant } => {
  const sent = getTime(from, past);
  return { sent, received: (sent + getSigned(from.took)) as Instant };
};

const putAnswer = (out: Out, past: Past, answer: Answer): void => {
  const piece = answer.kind === 'words' && pieceOf(answer.words) !== undefined;
  putByte(out.kind, KINDS[piece ? 'piece' : answer.kind]);
  putCount(out.source, answer.source);
  switch (answer.kind) {
    case 'items':
      putTime(out, past, answer.received);
      putCount(out.items, answer.items.length);
      for (const item of answer.items) putItem(out, past, item);
      return;
    case 'terms':
      putTerms(out, past, answer);
      return;
    case 'clock':
      putAsked(out, past, answer);
      putStamp(out, past, answer.theirs);
      return;
    case 'nothing':
      putCount(out.request, answer.request);
      putAsked(out, past, answer);
      putByte(out.why, absenceIndex(answer.why));
      putCount(out.code, answer.code);
      return;
    default:
      putCount(out.request, answer.request);
      putAsked(out, past, answer);
      putAllWords(out, past, answer.request, answer.words);
  }
};

type GetItem<From> = (from: From, past: Past) => Item;

const getItems = <From extends In>(from: From, past: Past, get: GetItem<From>): Item[] => {
  const count = getCount(from.items);
  const items: Item[] = [];
  while (items.length < count && !hasFailed(from)) items.push(get(from, past));
  return items;
};

/** The kinds that every version knows; undefined for another. */
const getKnown = <From extends In>(
  from: From,
  past: Past,
  { kind, source }: { kind: number; source: number },
  get: GetItem<From>,
): Answer | undefined => {
  if (kind === KINDS.items)
    return { kind: 'items', source, received: getTime(from, past), items: getItems(from, past, get) };
  if (kind !== KINDS.nothing && kind !== KINDS.words) return undefined;
  const request = getCount(from.request);
  const { sent, received } = getAsked(from, past);
  if (kind === KINDS.nothing) {
    const why = getWhy(from.why);
    const code = getCount(from.code);
    return why && { kind: 'nothing', source, request, sent, received, why, code };
  }
  const words = getWords(from.words, past.words.get(request) ?? []);
  past.words.set(request, words);
  return { kind: 'words', source, request, sent, received, words };
};

const getAnswer1 = (from: In, past: Past): Answer | undefined =>
  getKnown(from, past, { kind: getByte(from.kind), source: getCount(from.source) }, getItem1);

const getAnswer = (from: MoreIn, past: Past): Answer | undefined => {
  const kind = getByte(from.kind);
  const source = getCount(from.source);
  if (kind === KINDS.terms) return getTerms(from, past, source);
  if (kind === KINDS.clock)
    return { kind: 'clock', source, ...getAsked(from, past), theirs: getStamp(from, past) };
  if (kind !== KINDS.piece) return getKnown(from, past, { kind, source }, getItem);
  const request = getCount(from.request);
  const asked = getAsked(from, past);
  return { kind: 'words', source, request, ...asked, words: getPiece(from, past, request) };
};

/**
 * Answers as received, in their order, column by column; times, words and items are told as differences.
 * Throws a RangeError for what is no answer: a fraction of a microsecond or of a register, a negative number of a source.
 */
export const encodeAnswers = (answers: readonly Answer[]): Uint8Array => {
  const out = newColumns(MORE_COLUMNS);
  const past = newPast();
  for (const answer of answers) putAnswer(out, past, answer);
  return packColumns(VERSION, answers.length, MORE_COLUMNS, out);
};

const readAll = <From extends In>(
  unpacked: { readonly rows: number; readonly columns: From } | undefined,
  get: (from: From, past: Past) => Answer | undefined,
): Answer[] | undefined => {
  if (unpacked === undefined) return undefined;
  const { rows, columns } = unpacked;
  const past = newPast();
  const answers: Answer[] = [];
  while (answers.length < rows) {
    const answer = get(columns, past);
    if (answer === undefined || hasFailed(columns)) return undefined;
    answers.push(answer);
  }
  return isSpent(columns) ? answers : undefined;
};

/**
 * Of this version and those before it. Undefined for bytes that were not written by one of them: of another version,
 * cut short, or with something behind. Never throws.
 */
export const decodeAnswers = (bytes: Uint8Array): Answer[] | undefined =>
  bytes[0] === 1
    ? readAll(unpackColumns(1, COLUMNS, bytes), getAnswer1)
    : readAll(unpackColumns(VERSION, MORE_COLUMNS, bytes), getAnswer);
