import type { Instant, SignalId } from '../measure/index.ts';
import type { Item } from '../signal/index.ts';
import type { DataValue } from './opcua-library.ts';

const PICOSECONDS_PER_US = 1_000_000;

/** The library's Date holds milliseconds, its picoseconds the rest. Servers without a time send the year 1601. */
export const timeOf = (date: Date | null | undefined, picoseconds = 0): Instant | undefined =>
  date && date.getTime() > 0
    ? ((date.getTime() * 1_000 + Math.floor(picoseconds / PICOSECONDS_PER_US)) as Instant)
    : undefined;

/** Built-in types Int64 and UInt64 (OPC 10000-6, 5.1.2): the library gives both halves. */
const INT64 = 8;
const UINT64 = 9;

/** The value as a number; null where it is none, or more than one. */
export const numberOf = (data: DataValue): number | null => {
  const variant = data.value;
  const value: unknown = variant?.value;
  if (typeof value === 'boolean') return value ? 1 : 0;
  if (typeof value === 'number') return value;
  const type: number | undefined = variant?.dataType;
  if ((type === INT64 || type === UINT64) && Array.isArray(value) && value.length === 2) {
    const [high, low] = value as [number, number];
    return (type === INT64 ? high | 0 : high) * 4_294_967_296 + low;
  }
  return null;
};

export const itemOf = (signal: SignalId, data: DataValue): Item => {
  const sourceTime = timeOf(data.sourceTimestamp, data.sourcePicoseconds);
  const serverTime = timeOf(data.serverTimestamp, data.serverPicoseconds);
  return {
    signal,
    status: data.statusCode.value,
    value: numberOf(data),
    ...(sourceTime !== undefined && { sourceTime }),
    ...(serverTime !== undefined && { serverTime }),
  };
};
