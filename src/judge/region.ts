import type { Interval, Micros } from '../measure/index.ts';
import { SECOND } from '../measure/index.ts';
import { type Row, swept } from './track.ts';

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

const CELLS = 400;

/** Everything is possible up to four times the declared delay (at least 4 s more than it). */
export const openRegion = (delay: Micros): Region => ({
  width: Math.max(delay * 4, delay + 4 * SECOND) / CELLS,
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

/**
 * The effect changed within (changedAfter, changedBy]: for a delay d the level was crossed within
 * (changedAfter − d, changedBy − d]. A level at or above `quietBelow` would have acted during the baseline.
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
  for (let cell = 0; cell < region.low.length; cell += 1) {
    const least = cell * region.width;
    const hull = swept(rows, changedAfter - least - region.width, changedBy - least);
    if (hull === undefined) continue;
    const high = hull.openStart ? quietBelow : Math.min(hull.high, quietBelow);
    region.low[cell] = Math.max(region.low[cell] ?? 0, hull.low);
    region.high[cell] = Math.min(region.high[cell] ?? 0, high);
    if (hull.low >= quietBelow) region.high[cell] = Number.NEGATIVE_INFINITY;
  }
  return true;
};

/**
 * Nothing acted up to `quietUntil`: a level that the cause was certainly beyond for longer than d is excluded
 * for that d. `from` is where the trial began.
 */
export const narrowByQuiet = (
  region: Region,
  rows: readonly Row[],
  from: number,
  quietUntil: number,
): void => {
  const within = rows.filter((row) => row.latest >= from && row.earliest <= quietUntil);
  if (within.length < 2) return;
  for (let cell = 0; cell < region.low.length; cell += 1) {
    const needed = (cell + 1) * region.width;
    const bound = leastHeld(within, needed);
    region.high[cell] = Math.min(region.high[cell] ?? 0, bound);
  }
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
