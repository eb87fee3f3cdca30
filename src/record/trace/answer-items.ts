import { type Absence, absenceIndex, type Instant, type SignalId } from '../../measure/index.ts';
import type { Item } from '../../signal/index.ts';
import {
  getStamp,
  getWhy,
  type In,
  type MoreIn,
  type Out,
  type Past,
  putStamp,
  type Told,
} from './answer-parts.ts';
import {
  getByte,
  getCount,
  getDouble,
  getNumber,
  getSigned,
  putByte,
  putCount,
  putNumber,
  putSigned,
  type Reader,
  type Writer,
} from './bytes.ts';

/** Bits of `says` in version 1: which fields of an item are there. */
const SAYS_1 = { value: 1, source: 2, server: 4, unchanged: 8, changed: 16, why: 32 } as const;
const MOST_SAYS_1 = 63;

interface Optional {
  readonly text: string | undefined;
  readonly sourceTime: Instant | undefined;
  readonly serverTime: Instant | undefined;
  readonly unchanged: boolean | undefined;
  readonly why: Absence | undefined;
}

const itemOf = (signal: number, { status, value }: Told, optional: Optional): Item => {
  const { text, sourceTime, serverTime, unchanged, why } = optional;
  return {
    signal: signal as SignalId,
    status,
    value,
    ...(text !== undefined && { text }),
    ...(sourceTime !== undefined && { sourceTime }),
    ...(serverTime !== undefined && { serverTime }),
    ...(unchanged !== undefined && { unchanged }),
    ...(why !== undefined && { why }),
  };
};

const unchangedOf = (unchanged: boolean, changed: boolean): boolean | undefined => {
  if (unchanged) return true;
  return changed ? false : undefined;
};

/** An item as version 1 has written it. */
export const getItem1 = (from: In, past: Past): Item => {
  const says = getByte(from.says);
  const has = (bit: number): boolean => (says & bit) !== 0;
  if (says > MOST_SAYS_1 || (has(SAYS_1.unchanged) && has(SAYS_1.changed))) from.says.failed = true;
  const signal = getCount(from.signal);
  const status = getSigned(from.status);
  const value = has(SAYS_1.value) ? getDouble(from.value) : null;
  return itemOf(
    signal,
    { status, value },
    {
      text: undefined,
      sourceTime: has(SAYS_1.source) ? getStamp(from, past) : undefined,
      serverTime: has(SAYS_1.server) ? getStamp(from, past) : undefined,
      unchanged: unchangedOf(has(SAYS_1.unchanged), has(SAYS_1.changed)),
      why: has(SAYS_1.why) ? getWhy(from.why) : undefined,
    },
  );
};

/**
 * Bits of `says`; those of an ordinary item fit into one byte. `same`: status and value are those last told of the
 * signal. `apart`: the signal is not the one behind the last item's.
 */
const SAYS = {
  same: 1,
  value: 2,
  source: 4,
  server: 8,
  unchanged: 16,
  apart: 32,
  why: 64,
  changed: 128,
  text: 256,
} as const;
const MOST_SAYS = 511;

/** Counted in code units, which keeps any text. */
const putText = (writer: Writer, text: string): void => {
  putCount(writer, text.length);
  for (let index = 0; index < text.length; index += 1) putCount(writer, text.charCodeAt(index));
};

const MOST_UNIT = 0xffff;

const getText = (reader: Reader): string => {
  const length = getCount(reader);
  const units: string[] = [];
  while (units.length < length && !reader.failed) {
    const unit = getCount(reader);
    if (unit > MOST_UNIT) reader.failed = true;
    units.push(String.fromCharCode(unit));
  }
  return units.join('');
};

const isSame = (told: Told | undefined, { status, value }: Told): boolean =>
  told !== undefined && told.status === status && Object.is(told.value, value);

const saysOf = (item: Item, past: Past): number => {
  const same = isSame(past.items.get(item.signal), item);
  return (
    (same ? SAYS.same : 0) |
    (same || item.value === null ? 0 : SAYS.value) |
    (item.sourceTime === undefined ? 0 : SAYS.source) |
    (item.serverTime === undefined ? 0 : SAYS.server) |
    (item.unchanged === true ? SAYS.unchanged : 0) |
    (item.unchanged === false ? SAYS.changed : 0) |
    (item.signal === past.signal + 1 ? 0 : SAYS.apart) |
    (item.why === undefined ? 0 : SAYS.why) |
    (item.text === undefined ? 0 : SAYS.text)
  );
};

export const putItem = (out: Out, past: Past, item: Item): void => {
  const says = saysOf(item, past);
  putCount(out.says, says);
  if ((says & SAYS.apart) !== 0) putCount(out.signal, item.signal);
  past.signal = item.signal;
  if ((says & SAYS.same) === 0) {
    putSigned(out.status, item.status);
    if (item.value !== null) putNumber(out.value, item.value);
    past.items.set(item.signal, { status: item.status, value: item.value });
  }
  if (item.text !== undefined) putText(out.text, item.text);
  if (item.sourceTime !== undefined) putStamp(out, past, item.sourceTime);
  if (item.serverTime !== undefined) putStamp(out, past, item.serverTime);
  if (item.why !== undefined) putByte(out.why, absenceIndex(item.why));
};

const getTold = (from: MoreIn, past: Past, signal: number, says: number): Told => {
  const before = past.items.get(signal);
  if ((says & SAYS.same) !== 0) {
    if (before === undefined || (says & SAYS.value) !== 0) from.says.failed = true;
    return before ?? { status: 0, value: null };
  }
  const status = getSigned(from.status);
  const told = { status, value: (says & SAYS.value) !== 0 ? getNumber(from.value) : null };
  past.items.set(signal, told);
  return told;
};

export const getItem = (from: MoreIn, past: Past): Item => {
  const says = getCount(from.says);
  const has = (bit: number): boolean => (says & bit) !== 0;
  if (says > MOST_SAYS || (has(SAYS.unchanged) && has(SAYS.changed))) from.says.failed = true;
  const signal = has(SAYS.apart) ? getCount(from.signal) : past.signal + 1;
  past.signal = signal;
  return itemOf(signal, getTold(from, past, signal, says), {
    text: has(SAYS.text) ? getText(from.text) : undefined,
    sourceTime: has(SAYS.source) ? getStamp(from, past) : undefined,
    serverTime: has(SAYS.server) ? getStamp(from, past) : undefined,
    unchanged: unchangedOf(has(SAYS.unchanged), has(SAYS.changed)),
    why: has(SAYS.why) ? getWhy(from.why) : undefined,
  });
};
