import { absenceIndex, type Interval, newReadings } from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import { type Derivation, derive } from '../signal/index.ts';
import { swept } from './rows.ts';
import { historyOf, type Newest, type Track, take } from './track.ts';
import type { Marked } from './turn.ts';
import { withOneEmpty } from './watchers.ts';

interface One {
  readonly signal: number;
  readonly from: Derivation;
}

/** Signals that are worked out from others, by the signals they are worked out from; in the order of the book. */
export type Derived = readonly (readonly One[])[];

export const derivedOf = (book: Book): Derived => {
  const by: One[][] = book.signals.map(() => []);
  for (const { id, address } of book.signals) {
    if (address.kind !== 'derived') continue;
    for (const input of new Set(address.from.of)) by[input]?.push({ signal: id, from: address.from });
  }
  return withOneEmpty(by);
};

/** How far back rates look, by the signal that they are the rate of. */
export const reachOf = (book: Book): ReadonlyMap<number, number> => {
  const reach = new Map<number, number>();
  for (const { address } of book.signals) {
    if (address.kind !== 'derived' || address.from.as !== 'rate') continue;
    const { of, over } = address.from;
    for (const input of of) reach.set(input, Math.max(reach.get(input) ?? 0, over));
  }
  return reach;
};

/** One reading as a column of one row; taken at once, so it serves again and again. */
const cell = newReadings(1);

/** When, in which answer, and with which flags. */
type At = Pick<Newest, 'earliest' | 'latest' | 'response' | 'flags'>;

const put = (track: Track, at: At, value: Interval | number): void => {
  const absent = typeof value === 'number';
  cell.why[0] = absent ? value : 0;
  cell.low[0] = absent ? 0 : value.low;
  cell.high[0] = absent ? 0 : value.high;
  cell.earliest[0] = at.earliest;
  cell.latest[0] = at.latest;
  cell.response[0] = at.response;
  cell.flags[0] = at.flags;
  take(track, cell, 0);
};

const IMPLAUSIBLE = absenceIndex('implausible');

/** Readings of one answer share their instant; nothing has to be bracketed. */
const together = (rows: readonly Newest[]): Newest | undefined => {
  const [first] = rows;
  if (first === undefined || first.response === 0) return undefined;
  return rows.every(({ response }) => response === first.response) ? first : undefined;
};

/** The newest instant up to which every input is known, and what each can have been then. */
const common = (
  inputs: readonly Track[],
  rows: readonly Newest[],
): { at: At; values: Interval[] } | undefined => {
  const shared = together(rows);
  if (shared !== undefined) return { at: shared, values: [...rows] };
  const at = Math.min(...rows.map(({ earliest }) => earliest));
  const values = inputs.map((input) => swept(historyOf(input), at, at));
  const known = values.filter((value) => value !== undefined && !value.openStart);
  if (known.length < values.length) return undefined;
  const flags = rows.reduce((all, row) => all | row.flags, 0);
  return {
    at: { earliest: at, latest: at, response: 0, flags },
    values: known as Interval[],
  };
};

/** The value now and the one `over` before; the second is known only once history reaches that far. */
const twice = (input: Track, row: Newest, over: number): { at: At; values: Interval[] } | undefined => {
  const then = swept(historyOf(input), row.earliest - over, row.latest - over);
  return then === undefined || then.openStart ? undefined : { at: row, values: [row, then] };
};

const deriveOne = (tracks: readonly Track[], { signal, from }: One): boolean => {
  const track = tracks[signal];
  const inputs = from.of.flatMap((id) => tracks[id] ?? []);
  if (track === undefined || inputs.length < from.of.length) return false;
  const lost = inputs.find(({ absent }) => absent !== undefined);
  if (lost?.absent !== undefined) {
    const { newsEarliest: earliest, newsLatest: latest } = lost;
    put(track, { earliest, latest, response: 0, flags: 0 }, absenceIndex(lost.absent.why));
    return true;
  }
  const rows = inputs.flatMap(({ last }) => last ?? []);
  const [input] = inputs;
  const [row] = rows;
  if (input === undefined || row === undefined || rows.length < inputs.length) return false;
  const found = from.as === 'rate' ? twice(input, row, from.over) : common(inputs, rows);
  if (found === undefined || found.at.latest <= track.newsLatest) return false;
  put(track, found.at, derive(from, found.values) ?? IMPLAUSIBLE);
  return true;
};

/** Works out what depends on the signals that have just been read, and adds it to them. */
export const deriveTouched = (derived: Derived, tracks: readonly Track[], touched: Marked): void => {
  // The list grows while it is walked: what is derived may be an input in its turn.
  for (const signal of touched.list) {
    for (const one of derived[signal] ?? []) if (deriveOne(tracks, one)) touched.add(one.signal);
  }
};
