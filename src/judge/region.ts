import type { Interval, Micros } from '../measure/index.ts';
import { SECOND } from '../measure/index.ts';
import type { Delay } from '../rulebook/index.ts';
import {
  earliestAt,
  firstFrom,
  highAt,
  latestAt,
  lowAt,
  newRows,
  putRow,
  type Rows,
  rowAt,
  swept,
} from './rows.ts';

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

/**
 * What took its time may have taken up to `by` longer than its delay: each delay also allows the levels of those that
 * are up to `by` longer.
 */
export const loosen = (region: Region, by: Micros): void => {
  const { low, high, width } = region;
  const cells = Math.ceil(by / width);
  for (let cell = 0; cell < low.length; cell += 1) {
    for (let longer = cell + 1; longer <= Math.min(cell + cells, low.length - 1); longer += 1) {
      low[cell] = Math.min(low[cell] ?? 0, low[longer] ?? 0);
      high[cell] = Math.max(high[cell] ?? 0, high[longer] ?? 0);
    }
  }
};

/** Highest certain value of each row or any later one, up to the last row certainly before `until`. */
const highestFrom = (rows: Rows, until: number): Float64Array => {
  const found = new Float64Array(rows.length + 1).fill(Number.NEGATIVE_INFINITY);
  for (let index = rows.length - 1; index >= 0; index -= 1)
    if (latestAt(rows, index) <= until) found[index] = Math.max(found[index + 1] ?? 0, lowAt(rows, index));
  return found;
};

/**
 * The effect changed within (changedAfter, changedBy]: for a delay d the level was crossed within
 * (changedAfter − d, changedBy − d], and the value has been below it since, or the timer would have begun anew. A level
 * at or above `quietBelow` would have acted during the baseline.
 * Nothing is narrowed while a reading that is needed has not come.
 */
const narrowByEffect = (
  region: Region,
  rows: Rows,
  changedAfter: number,
  changedBy: number,
  quietBelow: number,
): void => {
  if (swept(rows, changedAfter, changedBy) === undefined) return;
  const since = highestFrom(rows, changedAfter);
  for (let cell = 0; cell < region.low.length; cell += 1) {
    const least = cell * region.width;
    const hull = swept(rows, changedAfter - least - region.width, changedBy - least);
    if (hull === undefined) continue;
    const high = hull.openStart ? quietBelow : Math.min(hull.high, quietBelow);
    const held = since[firstFrom(rows, changedBy - least)] ?? Number.NEGATIVE_INFINITY;
    region.low[cell] = Math.max(region.low[cell] ?? 0, hull.low, held);
    region.high[cell] = Math.min(region.high[cell] ?? 0, high);
    if (hull.low >= quietBelow) region.high[cell] = Number.NEGATIVE_INFINITY;
  }
};

/**
 * Stretches of the rows in [from, until] without a gap between them: across one, nobody knows whether the value came
 * back.
 */
const stretches = (
  rows: Rows,
  gaps: readonly { from: number; to: number }[],
  from: number,
  until: number,
): Rows[] => {
  const found: Rows[] = [];
  let before: number | undefined;
  for (let index = 0; index < rows.length; index += 1) {
    const latest = latestAt(rows, index);
    if (latest < from || earliestAt(rows, index) > until) continue;
    const last = before;
    if (last === undefined || gaps.some((gap) => gap.from < latest && gap.to > last)) found.push(newRows());
    const own = found.at(-1);
    if (own !== undefined) putRow(own, rowAt(rows, index));
    before = latest;
  }
  return found;
};

/**
 * Nothing acted up to `quietUntil`: a level that the cause was certainly beyond for longer than d is excluded
 * for that d. `from` is since when the interlock was armed and quiet.
 */
const narrowByQuiet = (
  region: Region,
  rows: Rows,
  gaps: readonly { from: number; to: number }[],
  from: number,
  quietUntil: number,
): void => {
  for (const held of heldProfiles(rows, gaps, from, quietUntil)) {
    for (let cell = 0; cell < region.low.length; cell += 1)
      region.high[cell] = Math.min(region.high[cell] ?? 0, held((cell + 1) * region.width));
  }
};

/** All pairs for a delay that begins anew when the cause comes back; `gaps`: those that may hide such a return. */
export const resettingRegion = (
  delay: Pick<Delay, 'time' | 'tolerance'>,
  rows: Rows,
  gaps: readonly { from: number; to: number }[],
  from: number,
  changed: { readonly after: number; readonly by: number } | undefined,
  quietUntil: number,
  quietBelow: number,
): Region => {
  const region = openRegion(delay.time, delay.tolerance);
  if (changed) narrowByEffect(region, rows, changed.after, changed.by, quietBelow);
  narrowByQuiet(region, rows, gaps, from, changed?.after ?? quietUntil);
  return region;
};

/** The deepest value below which the cause certainly stayed for `needed`, in [from, until]; Infinity: none. */
export const heldBelow = (
  rows: Rows,
  gaps: readonly { from: number; to: number }[],
  from: number,
  until: number,
  needed: Micros,
): number =>
  Math.min(...heldProfiles(rows, gaps, from, until).map((held) => held(needed)), Number.POSITIVE_INFINITY);

/** Nearest row on each side that reaches higher than the row itself; -1 and the length where none does. */
const higherNeighbours = (rows: Rows): { readonly left: Int32Array; readonly right: Int32Array } => {
  const left = new Int32Array(rows.length).fill(-1);
  const right = new Int32Array(rows.length).fill(rows.length);
  const stack: number[] = [];
  for (let index = 0; index < rows.length; index += 1) {
    while (stack.length > 0 && highAt(rows, stack.at(-1) ?? 0) < highAt(rows, index))
      right[stack.pop() ?? 0] = index;
    left[index] = stack.at(-1) ?? -1;
    stack.push(index);
  }
  return { left, right };
};

/**
 * The deepest value below which the cause certainly stayed for a time, for any time: each row, taken as the highest of
 * its surroundings, was the bound from one higher neighbour to the other.
 */
const heldProfile = (rows: Rows): ((needed: Micros) => number) => {
  const { left, right } = higherNeighbours(rows);
  const spans = Array.from({ length: rows.length }, (_, index) => ({
    bound: highAt(rows, index),
    lasted: earliestAt(rows, (right[index] ?? 0) - 1) - latestAt(rows, (left[index] ?? 0) + 1),
  })).sort((a, b) => b.lasted - a.lasted);
  let least = Number.POSITIVE_INFINITY;
  const bounds = spans.map(({ bound }) => {
    least = Math.min(least, bound);
    return least;
  });
  return (needed) => {
    let low = 0;
    let high = spans.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((spans[middle]?.lasted ?? 0) >= needed) low = middle + 1;
      else high = middle;
    }
    return low === 0 ? Number.POSITIVE_INFINITY : (bounds[low - 1] ?? Number.POSITIVE_INFINITY);
  };
};

/** The profile of each stretch without a gap in [from, until]. */
const heldProfiles = (
  rows: Rows,
  gaps: readonly { from: number; to: number }[],
  from: number,
  until: number,
): ((needed: Micros) => number)[] =>
  stretches(rows, gaps, from, until)
    .filter((part) => part.length > 1)
    .map(heldProfile);

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
