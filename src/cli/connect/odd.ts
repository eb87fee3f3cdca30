import { addressName } from '../../config/index.ts';
import type { Interval, Reading, Reason } from '../../measure/index.ts';
import type { Book } from '../../rulebook/index.ts';
import {
  type ByteOrder,
  decodeWords,
  isBitTable,
  type NumberType,
  numberIn,
  type SignalDef,
  wordsOf,
} from '../../signal/index.ts';
import type { Gathered } from './gather.ts';

/** `odd`: needs mending or an answer; `look`: right in some states of the plant. */
export interface Oddity {
  readonly weight: 'odd' | 'look';
  readonly reason: Reason;
}

/** What was seen of one tag. */
export interface Seen {
  readonly def: SignalDef;
  readonly newest: Reading | undefined;
  readonly reads: readonly Reading[];
  /** Raw words as received last, where it is a Modbus tag and they came. */
  readonly raw: readonly number[] | undefined;
  readonly life: boolean;
}

export const seenOf = (book: Book, gathered: Gathered): readonly Seen[] => {
  const lives = new Set(book.machines.flatMap(({ heartbeat }) => heartbeat ?? []));
  return book.signals
    .filter(({ address }) => address.kind !== 'derived')
    .map((def) => {
      const reads = gathered.readings.get(def.id) ?? [];
      return { def, newest: reads.at(-1), reads, raw: rawOf(def, gathered), life: lives.has(def.id) };
    });
};

const widthOf = (def: SignalDef): number => (isBitTable(def) ? 1 : wordsOf(def.decoding));

const rawOf = (def: SignalDef, { plan, words }: Gathered): readonly number[] | undefined => {
  const { address } = def;
  if (address.kind !== 'modbus') return undefined;
  const index = plan.requests.findIndex((one) => one.signals.includes(def.id));
  const request = plan.requests[index];
  if (request === undefined) return undefined;
  const from = address.at - request.at;
  const own = words.get(index)?.slice(from, from + widthOf(def)) ?? [];
  return own.length === widthOf(def) && own.every((word) => word >= 0) ? own : undefined;
};

type Numbered = SignalDef & { readonly decoding: SignalDef['decoding'] & { readonly as: 'number' } };

const isNumbered = (def: SignalDef): def is Numbered => def.decoding.as === 'number';

const LIMITS: Readonly<Partial<Record<NumberType, readonly number[]>>> = {
  uint16: [65_535, 32_767, 32_768],
  int16: [32_767, -32_768],
  uint32: [4_294_967_295, 2_147_483_647, 2_147_483_648],
  int32: [2_147_483_647, -2_147_483_648],
};

const ORDERS: readonly ByteOrder[] = ['ABCD', 'CDAB', 'BADC', 'DCBA'];

const hex = (words: readonly number[]): string =>
  `0x${words.map((word) => word.toString(16).toUpperCase().padStart(4, '0')).join(' ')}`;

/** Without a declared range: what a measured value of the trade can be at all (common practice, no source). */
const isLikely = ({ low, high }: Interval): boolean => {
  const size = Math.max(Math.abs(low), Math.abs(high));
  return size >= 1e-3 && size <= 1e6;
};

/** A real number that is nearly, but not, 0 is what a wrong byte order makes. */
const isTiny = (def: Numbered, { low, high }: Interval): boolean =>
  /^float/.test(def.decoding.type) && Math.max(Math.abs(low), Math.abs(high)) < 1e-9;

/** The value that these words would give, where it is one that could be meant. */
export const plausibleIn = (def: SignalDef, words: readonly number[]): Interval | undefined => {
  const decoded = decodeWords(def, words);
  if (!('value' in decoded) || def.states.length > 0) return undefined;
  const { value } = decoded;
  if (isNumbered(def) && isTiny(def, value)) return undefined;
  return def.plausible === undefined && !isLikely(value) ? undefined : value;
};

/** Neither absent for what it says itself, nor so large or small that nobody measures it. */
const isSuspect = ({ def, newest, raw }: Seen): boolean => {
  if (!isNumbered(def) || def.states.length > 0 || raw === undefined) return false;
  if (newest?.absent === 'implausible') return true;
  const { value } = newest ?? {};
  if (value === undefined || (value.low <= 0 && value.high >= 0)) return false;
  return isTiny(def, value) || (def.plausible === undefined && !isLikely(value));
};

const middle = ({ low, high }: Interval): number => (low + high) / 2;

const inOtherOrder = (seen: Seen): Oddity[] => {
  const { def, raw } = seen;
  if (raw === undefined || !isNumbered(def) || !isSuspect(seen)) return [];
  const { decoding } = def;
  return ORDERS.filter((order) => order !== decoding.order && (raw.length > 1 || order === 'BADC')).flatMap(
    (order): Oddity[] => {
      const value = plausibleIn({ ...def, decoding: { ...decoding, order } }, raw);
      if (value === undefined) return [];
      const params = { type: decoding.type, order, value: middle(value), unit: def.unit };
      return [{ weight: 'odd', reason: { code: 'odd-order', params } }];
    },
  );
};

const absence = ({ def, newest, raw }: Seen): Oddity[] => {
  const odd = (code: string, params: Reason['params']): Oddity[] => [
    { weight: 'odd', reason: { code, params } },
  ];
  const why = newest?.absent;
  const number =
    raw !== undefined && isNumbered(def) ? numberIn(raw, def.decoding.type, def.decoding.order) : undefined;
  if (why === 'refused' && def.address.kind === 'modbus')
    return odd('odd-refused', { address: addressName(def.address.table, def.address.at) });
  if (why === 'sensor-fault' && number !== undefined) return odd('odd-fault-code', { raw: number });
  if (why === 'implausible' && number !== undefined && isNumbered(def)) {
    const value = number * def.decoding.scale + def.decoding.offset;
    // Real, and all but nothing: what the words of a round value make in the wrong order.
    if (isTiny(def, { low: number, high: number }) && number !== 0)
      return odd('odd-all-but-nothing', { raw: hex(raw ?? []), type: def.decoding.type });
    if (!Number.isFinite(number))
      return odd('odd-not-a-number', { raw: hex(raw ?? []), type: def.decoding.type });
    if (def.plausible !== undefined && def.decoding.curve === undefined)
      return odd('odd-implausible', { value, range: def.plausible, unit: def.unit });
  }
  return odd('odd-absent', { why: why ?? 'not-polled' });
};

const atTypeLimit = ({ def, raw }: Seen): Oddity[] => {
  if (raw === undefined || !isNumbered(def) || def.states.length > 0) return [];
  const { type, order, faults, field } = def.decoding;
  const number = numberIn(raw, type, order);
  if (number === undefined || field !== undefined || faults?.includes(number) === true) return [];
  if (LIMITS[type]?.includes(number) !== true) return [];
  return [{ weight: 'odd', reason: { code: 'odd-type-limit', params: { raw: number, type } } }];
};

/** A hundredth of the range from its end. */
const EDGE = 0.01;

const atEdge = ({ def: { plausible, unit } }: Seen, value: Interval): Oddity[] => {
  if (plausible === undefined || value.low === 0) return [];
  const margin = (plausible.high - plausible.low) * EDGE;
  if (value.high < plausible.high - margin && value.low > plausible.low + margin) return [];
  if (middle(value) === 0) return [];
  const params = { value: middle(value), range: plausible, unit };
  return [{ weight: 'odd', reason: { code: 'odd-at-range-edge', params } }];
};

const STANDS = new Set(['rotational-speed', 'belt-speed', 'pulse-rate', 'count', 'current', 'ratio', 'time']);

const zero = ({ def }: Seen, value: Interval): Oddity[] => {
  if (def.states.length > 0 || def.quantity === 'count' || middle(value) !== 0) return [];
  const stands = STANDS.has(def.quantity);
  return [
    { weight: stands ? 'look' : 'odd', reason: { code: stands ? 'look-zero' : 'odd-zero', params: {} } },
  ];
};

const constant = ({ life, reads }: Seen, elapsed: number): Oddity[] => {
  const values = new Set(reads.flatMap(({ value }) => (value === undefined ? [] : [value.low])));
  if (!life || values.size !== 1) return [];
  const params = { reads: reads.length, elapsed: Math.round(elapsed / 1_000) };
  return [{ weight: 'odd', reason: { code: 'odd-constant', params } }];
};

/** What is odd about a tag, from what was read of it alone. */
export const odditiesOf = (seen: Seen, elapsed: number): readonly Oddity[] => {
  const { value } = seen.newest ?? {};
  if (value === undefined) return [...absence(seen), ...atTypeLimit(seen), ...inOtherOrder(seen)];
  const limit = atTypeLimit(seen);
  return [
    ...limit,
    ...inOtherOrder(seen),
    ...(limit.length === 0 && !isSuspect(seen) ? atEdge(seen, value) : []),
    ...zero(seen, value),
    ...constant(seen, elapsed),
  ];
};

/** Its address may be off by one: worth two more questions. */
export const wantsNeighbours = (seen: Seen): boolean =>
  isSuspect(seen) ||
  (seen.newest?.absent === 'refused' && isNumbered(seen.def)) ||
  atTypeLimit(seen).length > 0;
