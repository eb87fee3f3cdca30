import type { Interval } from '../measure/index.ts';

/** One good reading. Microseconds; value bounds in the unit of the signal. */
export interface Row {
  readonly earliest: number;
  readonly latest: number;
  readonly low: number;
  readonly high: number;
  readonly response: number;
}

/**
 * Good readings of one signal, oldest first, in one block of numbers that is a ring: an object for each would live for
 * minutes, and whoever collects what is no longer used would have to look at all of them.
 */
export interface Rows {
  cells: Float64Array;
  /** There is room for a power of two of them; one less than that. */
  mask: number;
  /** Place of the oldest. */
  first: number;
  length: number;
}

/** Numbers of a row: earliest, latest, low, high, response. */
const WIDTH = 5;
/** Rows that are made room for at first; twice as many whenever they do not do. */
const ROOM = 16;

export const newRows = (): Rows => ({ cells: new Float64Array(0), mask: -1, first: 0, length: 0 });

/** Where the numbers of a row begin. */
const placeOf = ({ first, mask }: Rows, index: number): number => ((first + index) & mask) * WIDTH;

export const earliestAt = (rows: Rows, index: number): number => rows.cells[placeOf(rows, index)] ?? 0;
export const latestAt = (rows: Rows, index: number): number => rows.cells[placeOf(rows, index) + 1] ?? 0;
export const lowAt = (rows: Rows, index: number): number => rows.cells[placeOf(rows, index) + 2] ?? 0;
export const highAt = (rows: Rows, index: number): number => rows.cells[placeOf(rows, index) + 3] ?? 0;
const responseAt = (rows: Rows, index: number): number => rows.cells[placeOf(rows, index) + 4] ?? 0;

const grow = (rows: Rows): void => {
  const { cells, first } = rows;
  const room = Math.max(ROOM, (rows.mask + 1) * 2);
  const found = new Float64Array(room * WIDTH);
  const head = cells.subarray(first * WIDTH);
  found.set(head);
  found.set(cells.subarray(0, first * WIDTH), head.length);
  rows.cells = found;
  rows.mask = room - 1;
  rows.first = 0;
};

/** Adds a row behind the others. */
export const putRow = (rows: Rows, { earliest, latest, low, high, response }: Row): void => {
  if (rows.length > rows.mask) grow(rows);
  const { cells } = rows;
  const place = placeOf(rows, rows.length);
  cells[place] = earliest;
  cells[place + 1] = latest;
  cells[place + 2] = low;
  cells[place + 3] = high;
  cells[place + 4] = response;
  rows.length += 1;
};

/** Forgets so many of the oldest. */
export const dropRows = (rows: Rows, count: number): void => {
  rows.first = (rows.first + count) & rows.mask;
  rows.length -= count;
};

/** One row as an object, for whoever asks; `index` must be one of them. */
export const rowAt = (rows: Rows, index: number): Row => ({
  earliest: earliestAt(rows, index),
  latest: latestAt(rows, index),
  low: lowAt(rows, index),
  high: highAt(rows, index),
  response: responseAt(rows, index),
});

/** All of them as objects. */
export const listOf = (rows: Rows): readonly Row[] =>
  Array.from({ length: rows.length }, (_, index) => rowAt(rows, index));

export const rowsFrom = (list: Iterable<Row>): Rows => {
  const rows = newRows();
  for (const row of list) putRow(rows, row);
  return rows;
};

/** The same rows turned over: what rises falls. */
export const turnedRows = (rows: Rows): Rows => {
  const found: Rows = { ...rows, cells: rows.cells.slice() };
  for (let place = 0; place < found.cells.length; place += WIDTH) {
    found.cells[place + 2] = -(rows.cells[place + 3] ?? 0);
    found.cells[place + 3] = -(rows.cells[place + 2] ?? 0);
  }
  return found;
};

/**
 * The rows up to the last of this response, whose own instant is no earlier than `earliest`; all where none has it.
 */
export const upToResponse = (rows: Rows, response: number, earliest: number): Rows => {
  let last = rows.length - 1;
  while (last >= 0 && responseAt(rows, last) !== response) last -= 1;
  if (last < 0) return rows;
  const found: Rows = { ...rows, cells: rows.cells.slice(), length: last + 1 };
  found.cells[placeOf(found, last)] = Math.max(earliestAt(rows, last), earliest);
  return found;
};

/** First index whose row satisfies `test`, rows being ordered so that the answer is false … false, true … true. */
const firstIndex = (rows: Rows, test: (rows: Rows, index: number) => boolean): number => {
  let low = 0;
  let high = rows.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (test(rows, middle)) high = middle;
    else low = middle + 1;
  }
  return low;
};

/** First row that is certainly not before an instant. */
export const firstFrom = (rows: Rows, at: number): number =>
  firstIndex(rows, (all, index) => earliestAt(all, index) >= at);

/** The hull of what the signal can have been during [from, to], a signal being monotone between two readings. */
export interface Swept extends Interval {
  /** The history does not reach back to `from`. */
  readonly openStart: boolean;
}

/** Undefined while the reading that would close the span has not come. */
export const swept = (rows: Rows, from: number, to: number): Swept | undefined => {
  const after = firstIndex(rows, (all, index) => latestAt(all, index) > from);
  const end = firstFrom(rows, to);
  if (end >= rows.length) return undefined;
  const start = Math.max(0, Math.min(after - 1, end));
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let index = start; index <= end; index += 1) {
    low = Math.min(low, lowAt(rows, index));
    high = Math.max(high, highAt(rows, index));
  }
  return { low, high, openStart: after === 0 };
};

/** The same between two answers of a scan-consistent source: cause and effect share their instants. */
export const sweptBetween = (rows: Rows, first: number, last: number): Interval | undefined => {
  if (first === 0 || last === 0) return undefined;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let seen = 0;
  for (let index = rows.length - 1; index >= 0; index -= 1) {
    const response = responseAt(rows, index);
    if (response > last) continue;
    if (response < first) break;
    if (response === first || response === last) seen += 1;
    low = Math.min(low, lowAt(rows, index));
    high = Math.max(high, highAt(rows, index));
  }
  return seen >= 2 ? { low, high } : undefined;
};
