import { newReadings, type Readings } from '../../measure/index.ts';
import {
  getByte,
  getCount,
  getDouble,
  getSigned,
  putByte,
  putCount,
  putDouble,
  putSigned,
  type Writer,
} from './bytes.ts';
import { isSpent, newColumns, packColumns, type Readers, unpackColumns } from './columns.ts';

/** Encoding of a block of readings that came from a file: there were no answers to keep. */
export const READINGS = 'tw-readings-1';

const VERSION = 1;
const COLUMNS = ['signal', 'why', 'flags', 'response', 'time', 'width', 'form', 'value'] as const;

/** How the bounds of a value are told. */
const FORM = { both: 0, one: 1, asBefore: 2 } as const;

type Bounds = readonly [low: number, high: number];
const same = (a: Bounds, b: Bounds | undefined): boolean =>
  b !== undefined && Object.is(a[0], b[0]) && Object.is(a[1], b[1]);

const putBounds = (form: Writer, value: Writer, bounds: Bounds, before: Bounds | undefined): void => {
  if (same(bounds, before)) {
    putByte(form, FORM.asBefore);
    return;
  }
  const isOne = Object.is(bounds[0], bounds[1]);
  putByte(form, isOne ? FORM.one : FORM.both);
  putDouble(value, bounds[0]);
  if (!isOne) putDouble(value, bounds[1]);
};

/** Every row and its order; doubles bit for bit. Throws a RangeError for times that are no whole microseconds. */
export const encodeReadings = (readings: Readings): Uint8Array => {
  const out = newColumns(COLUMNS);
  const before = new Map<number, Bounds>();
  let time = 0;
  for (let row = 0; row < readings.length; row += 1) {
    const signal = readings.signal[row] ?? 0;
    const bounds: Bounds = [readings.low[row] ?? 0, readings.high[row] ?? 0];
    const earliest = readings.earliest[row] ?? 0;
    putCount(out.signal, signal);
    putByte(out.why, readings.why[row] ?? 0);
    putByte(out.flags, readings.flags[row] ?? 0);
    putCount(out.response, readings.response[row] ?? 0);
    putSigned(out.time, earliest - time);
    putSigned(out.width, (readings.latest[row] ?? 0) - earliest);
    putBounds(out.form, out.value, bounds, before.get(signal));
    before.set(signal, bounds);
    time = earliest;
  }
  return packColumns(VERSION, readings.length, COLUMNS, out);
};

const getBounds = (
  columns: Readers<(typeof COLUMNS)[number]>,
  before: Bounds | undefined,
): Bounds | undefined => {
  const form = getByte(columns.form);
  if (form === FORM.asBefore) return before;
  if (form > FORM.asBefore) return undefined;
  const low = getDouble(columns.value);
  return [low, form === FORM.one ? low : getDouble(columns.value)];
};

const MOST_COUNT = 0xffff_ffff;

/** Undefined for bytes that `encodeReadings` did not write. Never throws. */
export const decodeReadings = (bytes: Uint8Array): Readings | undefined => {
  const unpacked = unpackColumns(VERSION, COLUMNS, bytes);
  // One byte a row at least: a row count from garbage reserves no memory.
  if (unpacked === undefined || unpacked.rows !== unpacked.columns.form.bytes.length) return undefined;
  const { rows, columns } = unpacked;
  const readings = newReadings(rows);
  const before = new Map<number, Bounds>();
  let time = 0;
  for (let row = 0; row < rows; row += 1) {
    const signal = getCount(columns.signal);
    const response = getCount(columns.response);
    const bounds = getBounds(columns, before.get(signal));
    if (bounds === undefined || signal > MOST_COUNT || response > MOST_COUNT) return undefined;
    before.set(signal, bounds);
    time += getSigned(columns.time);
    readings.signal[row] = signal;
    readings.response[row] = response;
    readings.why[row] = getByte(columns.why);
    readings.flags[row] = getByte(columns.flags);
    readings.earliest[row] = time;
    readings.latest[row] = time + getSigned(columns.width);
    [readings.low[row], readings.high[row]] = bounds;
  }
  return isSpent(columns) ? readings : undefined;
};
