import type { Instant, SignalId } from '../../measure/index.ts';
import { type Item, plainValue } from '../../signal/index.ts';
import type { DataValue } from './library.ts';

const PICOSECONDS_PER_US = 1_000_000;

/** The library's Date holds milliseconds, its picoseconds the rest. Servers without a time send the year 1601. */
export const timeOf = (date: Date | null | undefined, picoseconds = 0): Instant | undefined =>
  date && date.getTime() > 0
    ? ((date.getTime() * 1_000 + Math.floor(picoseconds / PICOSECONDS_PER_US)) as Instant)
    : undefined;

/** The value as a number; null where it is none, or more than one. */
export const numberOf = (data: DataValue): number | null => plainValue(data.value).value;

/** Both times, as servers usually send them: written out, not spread, for this is done a hundred thousand times a second. */
const stampedItem = (
  signal: SignalId,
  status: number,
  value: number | null,
  sourceTime: Instant,
  serverTime: Instant,
): Item => ({ signal, status, value, sourceTime, serverTime });

export const itemOf = (signal: SignalId, data: DataValue): Item => {
  const sourceTime = timeOf(data.sourceTimestamp, data.sourcePicoseconds);
  const serverTime = timeOf(data.serverTimestamp, data.serverPicoseconds);
  const status = data.statusCode.value;
  const plain = plainValue(data.value);
  if (sourceTime !== undefined && serverTime !== undefined && plain.text === undefined)
    return stampedItem(signal, status, plain.value, sourceTime, serverTime);
  return {
    signal,
    status,
    ...plain,
    ...(sourceTime !== undefined && { sourceTime }),
    ...(serverTime !== undefined && { serverTime }),
  };
};
