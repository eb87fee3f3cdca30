import { countUntil, placeOf, type Series } from './series.ts';

/** A span without a value. */
interface Gaps {
  from: Float64Array;
  to: Float64Array;
  why: Uint8Array;
  count: number;
}

/**
 * Rows of a signal brought down to what a screen can show: no more than one place per column of pixels, each with the
 * least and the greatest of its rows, so that nothing is hidden. Filled anew for each picture; nothing is made for it.
 */
export interface Columns {
  t: Float64Array;
  low: Float64Array;
  high: Float64Array;
  /** 1: no line comes from the place before. */
  apart: Uint8Array;
  count: number;
  readonly gaps: Gaps;
  /** Over all that is filled in; least above greatest where there is nothing. */
  least: number;
  greatest: number;
}

const ROOM = 512;

export const createColumns = (): Columns => ({
  t: new Float64Array(ROOM),
  low: new Float64Array(ROOM),
  high: new Float64Array(ROOM),
  apart: new Uint8Array(ROOM),
  count: 0,
  gaps: { from: new Float64Array(16), to: new Float64Array(16), why: new Uint8Array(16), count: 0 },
  least: Number.POSITIVE_INFINITY,
  greatest: Number.NEGATIVE_INFINITY,
});

const wider = <T extends Float64Array | Uint8Array>(column: T, empty: T): T => {
  empty.set(column);
  return empty;
};

const widen = (columns: Columns): void => {
  const room = columns.t.length * 2;
  columns.t = wider(columns.t, new Float64Array(room));
  columns.low = wider(columns.low, new Float64Array(room));
  columns.high = wider(columns.high, new Float64Array(room));
  columns.apart = wider(columns.apart, new Uint8Array(room));
};

const gap = (gaps: Gaps, from: number, to: number, why: number): void => {
  if (gaps.count === gaps.from.length) {
    const room = gaps.count * 2;
    gaps.from = wider(gaps.from, new Float64Array(room));
    gaps.to = wider(gaps.to, new Float64Array(room));
    gaps.why = wider(gaps.why, new Uint8Array(room));
  }
  gaps.from[gaps.count] = from;
  gaps.to[gaps.count] = to;
  gaps.why[gaps.count] = why;
  gaps.count += 1;
};

const add = (columns: Columns, t: number, low: number, high: number, apart: number): void => {
  if (columns.count === columns.t.length) widen(columns);
  const { count } = columns;
  columns.t[count] = t;
  columns.low[count] = low;
  columns.high[count] = high;
  columns.apart[count] = apart;
  columns.count += 1;
};

const emptied = (columns: Columns): void => {
  columns.count = 0;
  columns.gaps.count = 0;
  columns.least = Number.POSITIVE_INFINITY;
  columns.greatest = Number.NEGATIVE_INFINITY;
};

/** A reading of the column of pixels that the last place stands for: it only widens that place. */
const join = (columns: Columns, low: number, high: number): void => {
  const last = columns.count - 1;
  if (low < (columns.low[last] as number)) columns.low[last] = low;
  if (high > (columns.high[last] as number)) columns.high[last] = high;
};

/** Rows from `begin` up to before `end`, counted from the oldest that is kept. */
export interface RowSpan {
  readonly begin: number;
  readonly end: number;
}

/** With one row beyond each edge, so that lines leave the picture. */
export const rowsSeen = (series: Series, from: number, to: number): RowSpan => ({
  begin: Math.max(0, countUntil(series, from) - 1),
  end: Math.min(series.count, countUntil(series, to) + 1),
});

/** Takes rows from `begin` up to `end` in; those of one cell of so many seconds after `from` are one place. */
const take = (
  columns: Columns,
  series: Series,
  { begin, end }: RowSpan,
  cells: { readonly from: number; readonly wide: number },
): { readonly gapFrom: number; readonly gapWhy: number } => {
  let cell = Number.NaN;
  let known = Number.NaN;
  let gapFrom = 0;
  let gapWhy = 0;
  for (let row = begin; row < end; row += 1) {
    const place = placeOf(series, row);
    const t = series.t[place] as number;
    const why = series.why[place] as number;
    if (gapWhy !== 0 && why !== gapWhy) {
      gap(columns.gaps, gapFrom, t, gapWhy);
      known = t;
    }
    if (why !== 0) {
      // What is known ends with the last reading before.
      if (why !== gapWhy) gapFrom = Number.isNaN(known) ? t : known;
      gapWhy = why;
      cell = Number.NaN;
      continue;
    }
    const low = series.low[place] as number;
    const high = series.high[place] as number;
    if (low < columns.least) columns.least = low;
    if (high > columns.greatest) columns.greatest = high;
    const own = Math.floor((t - cells.from) / cells.wide);
    const apart = Number.isNaN(cell);
    if (own === cell) join(columns, low, high);
    else add(columns, t, low, high, apart ? 1 : 0);
    cell = own;
    gapWhy = 0;
    known = t;
  }
  return { gapFrom, gapWhy };
};

/** Fills `columns` with what is seen between `from` and `to` on so many pixels. */
export const fill = (columns: Columns, series: Series, from: number, to: number, pixels: number): void => {
  emptied(columns);
  const { gapFrom, gapWhy } = take(columns, series, rowsSeen(series, from, to), {
    from,
    wide: (to - from) / pixels,
  });
  if (gapWhy !== 0) gap(columns.gaps, gapFrom, Math.max(to, gapFrom), gapWhy);
};

/** Less than between any two rows, in seconds: each has a place of its own. */
const EACH = 1e-7;

/** Fills `columns` with these rows, each in a place of its own. */
export const fillRows = (columns: Columns, series: Series, rows: RowSpan): void => {
  emptied(columns);
  take(columns, series, rows, { from: 0, wide: EACH });
};
