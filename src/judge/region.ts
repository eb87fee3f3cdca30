import type { Interval, Micros } from '../measure/index.ts';
import { SECOND } from '../measure/index.ts';
import { firstIndex, type Row, swept } from './track.ts';

/**
 * All (level, delay) pairs that are consistent with what was seen. One ramp cannot tell a low level from a
 * long delay; the delays are cut into cells, and each cell keeps the hull of the levels that fit it.
 * Mirrored where needed, so that the cause always falls. An empty cell has low > high.
 */
export interface Region {
  readonly width: Micros;
  readonly low: Float64Array;
  readonly high: Float64Array;
}

const CELLS = 1_000;

const divisor = (a: number, b: number): number => (b < 1 ? a : divisor(b, a % b));

/** Cells that end where the allowed delay begins and ends, so that none lies on both sides. */
const widthOf = (delay: Micros, tolerance: Micros): Micros => {
  const widest = Math.max(delay * 4, delay + 4 * SECOND) / CELLS;
  const both = divisor(Math.round(delay + tolerance), Math.round(Math.max(0, delay - tolerance)));
  return both > 0 && both / Math.ceil(both / widest) > widest / 2 ? both / Math.ceil(both / widest) : widest;
};

/** Everything is possible up to four times the declared delay (at least 4 s more than it), or nearly. */
export const openRegion = (delay: Micros, tolerance: Micros): Region => ({
  width: widthOf(delay, tolerance),
  low: new Float64Array(CELLS).fill(Number.NEGATIVE_INFINITY),
  high: new Float64Array(CELLS).fill(Number.POSITIVE_INFINITY),
});

export const copyRegion = (region: Region): Region => ({
  width: region.width,
  low: region.low.slice(),
  high: region.high.slice(),
});

/** Narrows `region` to what `other` also allows. */
export const narrow = (region: Region, other: Region): void => {
  for (let cell = 0; cell < region.low.length; cell += 1) {
    region.low[cell] = Math.max(region.low[cell] ?? 0, other.low[cell] ?? 0);
    region.high[cell] = Math.min(region.high[cell] ?? 0, other.high[cell] ?? 0);
  }
};

/** Highest certain value of each row or any later one, up to the last row certainly before `until`. */
const highestFrom = (rows: readonly Row[], until: number): Float64Array => {
  const found = new Float64Array(rows.length + 1).fill(Number.NEGATIVE_INFINITY);
  for (let index = rows.length - 1; index >= 0; index -= 1) {
    const row = rows[index];
    if (row === undefined || row.latest > until) continue;
    found[index] = Math.max(found[index + 1] ?? 0, row.low);
  }
  return found;
};

/**
 * The effect changed within (changedAfter, changedBy]: for a delay d the level was crossed within
 * (changedAfter − d, changedBy − d], and the value has been below it since, or the timer would have begun anew. A level
 * at or above `quietBelow` would have acted during the baseline.
 * Returns false while a reading that is needed has not come.
 */
export const narrowByEffect = (
  region: Region,
  rows: readonly Row[],
  changedAfter: number,
  changedBy: number,
  quietBelow: number,
): boolean => {
  if (swept(rows, changedAfter, changedBy) === undefined) return false;
  const since = highestFrom(rows, changedAfter);
  for (let cell = 0; cell < region.low.length; cell += 1) {
    const least = cell * region.width;
    const hull = swept(rows, changedAfter - least - region.width, changedBy - least);
    if (hull === undefined) continue;
    const high = hull.openStart ? quietBelow : Math.min(hull.high, quietBelow);
    const held =
      since[firstIndex(rows, (row) => row.earliest >= changedBy - least)] ?? Number.NEGATIVE_INFINITY;
    region.low[cell] = Math.max(region.low[cell] ?? 0, hull.low, held);
    region.high[cell] = Math.min(region.high[cell] ?? 0, high);
    if (hull.low >= quietBelow) region.high[cell] = Number.NEGATIVE_INFINITY;
  }
  return true;
};

/** Stretches of rows without a gap between them: across one, nobody knows whether the value came back. */
const stretches = (rows: readonly Row[], gaps: readonly { from: number; to: number }[]): Row[][] => {
  const found: Row[][] = [];
  let last: Row | undefined;
  for (const row of rows) {
    const before = last;
    const broken =
      before === undefined || gaps.some((gap) => gap.from < row.latest && gap.to > before.latest);
    if (broken) found.push([]);
    found.at(-1)?.push(row);
    last = row;
  }
  return found;
};

/**
 * Nothing acted up to `quietUntil`: a level that the cause was certainly beyond for longer than d is excluded
 * for that d. `from` is since when the interlock was armed and quiet.
 */
export const narrowByQuiet = (
  region: Region,
  rows: readonly Row[],
  gaps: readonly { from: number; to: number }[],
  from: number,
  quietUntil: number,
): void => {
  const within = rows.filter((row) => row.latest >= from && row.earliest <= quietUntil);
  const parts = stretches(within, gaps).filter((part) => part.length > 1);
  for (let cell = 0; cell < region.low.length; cell += 1) {
    const needed = (cell + 1) * region.width;
    for (const part of parts) region.high[cell] = Math.min(region.high[cell] ?? 0, leastHeld(part, needed));
  }
};

/** The deepest value below which the cause certainly stayed for `needed`, in [from, until]; Infinity: none. */
export const heldBelow = (
  rows: readonly Row[],
  gaps: readonly { from: number; to: number }[],
  from: number,
  until: number,
  needed: Micros,
): number => {
  const within = rows.filter((row) => row.latest >= from && row.earliest <= until);
  const parts = stretches(within, gaps).filter((part) => part.length > 1);
  return Math.min(...parts.map((part) => leastHeld(part, needed)), Number.POSITIVE_INFINITY);
};

/** The deepest value that the cause certainly stayed below for `needed` microseconds (sliding maximum). */
const leastHeld = (rows: readonly Row[], needed: Micros): number => {
  let best = Number.POSITIVE_INFINITY;
  const queue: number[] = [];
  let start = 0;
  rows.forEach((row, index) => {
    while (queue.length > 0 && (rows[queue.at(-1) ?? 0]?.high ?? 0) <= row.high) queue.pop();
    queue.push(index);
    while (start + 1 <= index && row.earliest - (rows[start + 1]?.latest ?? 0) >= needed) start += 1;
    while ((queue[0] ?? 0) < start) queue.shift();
    if (row.earliest - (rows[start]?.latest ?? 0) >= needed)
      best = Math.min(best, rows[queue[0] ?? 0]?.high ?? best);
  });
  return best;
};

export interface Projection {
  /** Hull of the levels of all cells that are left; undefined when none is. */
  readonly level?: Interval;
  /** Hull of the delays, in microseconds; `high` is Infinity where the last cell is still possible. */
  readonly delay?: Interval;
}

/** What is left, seen from each axis; `among` keeps only delays that can lie inside it. */
export const project = (region: Region, among?: Interval): Projection => {
  let level: Interval | undefined;
  let delay: Interval | undefined;
  for (let cell = 0; cell < region.low.length; cell += 1) {
    const low = region.low[cell] ?? 0;
    const high = region.high[cell] ?? 0;
    const first = cell * region.width;
    const last = cell + 1 === region.low.length ? Number.POSITIVE_INFINITY : first + region.width;
    if (low > high) continue;
    if (among !== undefined && (last < among.low || first > among.high)) continue;
    level =
      level === undefined
        ? { low, high }
        : { low: Math.min(level.low, low), high: Math.max(level.high, high) };
    delay = { low: delay?.low ?? first, high: last };
  }
  return { ...(level && { level }), ...(delay && { delay }) };
};

/** Levels and delays (seconds) that are possible together. */
export interface RegionCell {
  readonly delay: Interval;
  readonly level: Interval;
}

/** Cells in a row whose bounds differ by less than this share of the whole are told as one. */
const ALIKE = 0.02;

/** What is left, as few rectangles as tell it well: each the hull of cells in a row. */
export const outline = (region: Region): RegionCell[] => {
  const all = project(region).level;
  if (all === undefined || !Number.isFinite(all.low) || !Number.isFinite(all.high)) return [];
  const alike = ALIKE * (all.high - all.low);
  const found: { from: number; to: number; low: number; high: number; first: Interval }[] = [];
  for (let cell = 0; cell < region.low.length; cell += 1) {
    const low = region.low[cell] ?? 0;
    const high = region.high[cell] ?? 0;
    if (low > high) continue;
    const last = found.at(-1);
    const near = last && Math.abs(last.first.low - low) <= alike && Math.abs(last.first.high - high) <= alike;
    if (last !== undefined && near && last.to === cell) {
      last.to = cell + 1;
      last.low = Math.min(last.low, low);
      last.high = Math.max(last.high, high);
    } else found.push({ from: cell, to: cell + 1, low, high, first: { low, high } });
  }
  const seconds = (cell: number): number => (cell * region.width) / SECOND;
  return found.map(({ from, to, low, high }) => ({
    delay: { low: seconds(from), high: seconds(to) },
    level: { low, high },
  }));
};
