import type { Rows } from '../../api/index.ts';
import { absenceIndex } from '../../measure/index.ts';

/**
 * Rows of one signal in columns, in order of time: a ring, in which the oldest row gives way once it is full. `t`:
 * seconds after the zero of its plot; `why`: 0, or the stored index of the reason why there is no value.
 */
export interface Series {
  t: Float64Array;
  low: Float64Array;
  high: Float64Array;
  why: Uint8Array;
  /** Place of the oldest row. */
  first: number;
  count: number;
  /** Rows that were ever put: tells which are new to whoever drew the others. */
  put: number;
}

/** Powers of two, so that a place in the ring is found by a mask. */
const LEAST = 256;
/** Ten minutes with a row each 40 ms. */
const MOST = 16_384;

export const createSeries = (): Series => ({
  t: new Float64Array(LEAST),
  low: new Float64Array(LEAST),
  high: new Float64Array(LEAST),
  why: new Uint8Array(LEAST),
  first: 0,
  count: 0,
  put: 0,
});

/** Place of the row with this number, counted from the oldest. */
export const placeOf = (series: Series, row: number): number => (series.first + row) & (series.t.length - 1);

export const timeOf = (series: Series, row: number): number => series.t[placeOf(series, row)] as number;

/** Only before anything was written over, so that the rows lie in their order. */
const widen = (series: Series): void => {
  const room = series.t.length * 2;
  const wide = (column: Float64Array): Float64Array => {
    const next = new Float64Array(room);
    next.set(column);
    return next;
  };
  series.t = wide(series.t);
  series.low = wide(series.low);
  series.high = wide(series.high);
  const why = new Uint8Array(room);
  why.set(series.why);
  series.why = why;
};

/** A row that is older than the newest was told before and is left out. */
export const put = (
  series: Series,
  row: { readonly t: number; readonly low: number; readonly high: number; readonly why: number },
  most = MOST,
): void => {
  const { count } = series;
  if (count > 0 && row.t < timeOf(series, count - 1)) return;
  if (count === series.t.length) {
    if (count < most) widen(series);
    else {
      series.first = (series.first + 1) & (count - 1);
      series.count -= 1;
    }
  }
  const place = placeOf(series, series.count);
  series.t[place] = row.t;
  series.low[place] = row.low;
  series.high[place] = row.high;
  series.why[place] = row.why;
  series.count += 1;
  series.put += 1;
};

export const clear = (series: Series): void => {
  series.first = 0;
  series.count = 0;
};

/** How many rows are no later than `t`. */
export const countUntil = (series: Series, t: number): number => {
  let [least, most] = [0, series.count];
  while (least < most) {
    const middle = (least + most) >> 1;
    if (timeOf(series, middle) <= t) least = middle + 1;
    else most = middle;
  }
  return least;
};

/** One row for all: nothing is made for a row. */
const carried = { t: 0, low: 0, high: 0, why: 0 };

/** Puts rows where they belong; `shift`: seconds from the zero of the plot to theirs. Tells the time of the newest. */
export const takeRows = (all: readonly Series[], rows: Rows, shift: number, most = MOST): number => {
  let newest = Number.NEGATIVE_INFINITY;
  for (let index = 0; index < rows.t.length; index += 1) {
    const series = all[rows.signal[index] as number];
    if (series === undefined) continue;
    const why = rows.why[index] ?? '';
    carried.t = (rows.t[index] as number) / 1e6 + shift;
    carried.low = rows.low[index] ?? Number.NaN;
    carried.high = rows.high[index] ?? Number.NaN;
    carried.why = why === '' ? 0 : absenceIndex(why);
    put(series, carried, most);
    if (carried.t > newest) newest = carried.t;
  }
  return newest;
};
