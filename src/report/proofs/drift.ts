import type { Instant, Interval, Reason } from '../../measure/index.ts';
import { type Evidence, endOf } from './past-evidence.ts';

/** A measured interval at a time. */
export interface DriftPoint {
  readonly at: Instant;
  readonly value: Interval;
  readonly window: string;
}

/** Microseconds of a year of 365.25 days. */
const YEAR = 365.25 * 86_400_000_000;
/** Nobody plans farther. */
const LONGEST = 50 * YEAR;
/** Drift is told from so many tests on, over so long: two of one day differ by the way they were made. Common practice, no source. */
const FEWEST = 3;
const SHORTEST = YEAR / 12;
/** So many alike are no chance any more. Common practice, no source. */
const ALIKE = 3;

/**
 * How steep a straight line through all intervals can be, per year: for every two points the line must not rise by more
 * than from the bottom of the earlier to the top of the later, nor by less than from top to bottom. Exact, nothing is
 * assumed of how values are spread within their intervals. Undefined: fewer than two points, or no line fits.
 */
export const slopeOf = (points: readonly DriftPoint[]): Interval | undefined => {
  let [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (const one of points)
    for (const other of points) {
      const years = (other.at - one.at) / YEAR;
      if (!(years > 0)) continue;
      low = Math.max(low, (other.value.low - one.value.high) / years);
      high = Math.min(high, (other.value.high - one.value.low) / years);
    }
  return Number.isFinite(low) && Number.isFinite(high) && low <= high ? { low, high } : undefined;
};

/** Steepnesses at which the highest or lowest line through all intervals can turn. */
const turns = (points: readonly DriftPoint[], slope: Interval): readonly number[] => {
  const found = [slope.low, slope.high];
  for (const one of points)
    for (const other of points) {
      const years = (other.at - one.at) / YEAR;
      if (!(years > 0)) continue;
      for (const edge of ['low', 'high'] as const) {
        const steep = (other.value[edge] - one.value[edge]) / years;
        if (steep > slope.low && steep < slope.high) found.push(steep);
      }
    }
  return found;
};

/** Where the lines through all intervals can be at a time. */
export const reachAt = (points: readonly DriftPoint[], slope: Interval, at: number): Interval => {
  const moved = (edge: 'low' | 'high', steep: number): readonly number[] =>
    points.map((point) => point.value[edge] + (steep * (at - point.at)) / YEAR);
  const steeps = turns(points, slope);
  return {
    low: Math.min(...steeps.map((steep) => Math.max(...moved('low', steep)))),
    high: Math.max(...steeps.map((steep) => Math.min(...moved('high', steep)))),
  };
};

/** The first time from `from` on at which `is` holds, to a day; undefined: not within fifty years. Once it holds it stays. */
const firstTime = (from: number, is: (at: number) => boolean): Instant | undefined => {
  let [before, after] = [from, from + LONGEST];
  if (is(before)) return from as Instant;
  if (!is(after)) return undefined;
  while (after - before > 86_400_000_000) {
    const middle = Math.floor((before + after) / 2);
    if (is(middle)) after = middle;
    else before = middle;
  }
  return after as Instant;
};

/** Per year, with the times at which the tolerance may be left at the earliest, and is left at the latest. */
export interface Drift {
  readonly points: readonly DriftPoint[];
  readonly slope: Interval;
  readonly earliest?: Instant;
  readonly latest?: Instant;
}

/** Undefined where the tests are too few, or lie too close together, to tell of years. */
export const driftOf = (points: readonly DriftPoint[], allowed: Interval): Drift | undefined => {
  const slope = slopeOf(points);
  const [first] = points;
  const last = points.at(-1);
  if (slope === undefined || first === undefined || last === undefined) return undefined;
  if (points.length < FEWEST || last.at - first.at < SHORTEST) return undefined;
  const earliest = firstTime(last.at, (at) => {
    const reach = reachAt(points, slope, at);
    return reach.high > allowed.high || reach.low < allowed.low;
  });
  const latest = firstTime(last.at, (at) => {
    const reach = reachAt(points, slope, at);
    return reach.low > allowed.high || reach.high < allowed.low;
  });
  return {
    points,
    slope,
    ...(earliest !== undefined && { earliest }),
    ...(latest !== undefined && { latest }),
  };
};

const isTest = ({ window, past }: Evidence): boolean =>
  window.standing === 'closed' && !window.demand && !past.demand;

/** Tests since the interlock was last adjusted, that one as left. */
const sinceAdjusted = (evidence: readonly Evidence[]): readonly Evidence[] =>
  evidence.slice(
    Math.max(
      0,
      evidence.findLastIndex(({ past }) => past.verdict.asLeft !== undefined),
    ),
  );

export const pointsOf = (
  evidence: readonly Evidence[],
  figure: 'tripPoint' | 'tripPercent' | 'response',
): readonly DriftPoint[] =>
  sinceAdjusted(evidence.filter(isTest)).flatMap(({ window, past }): DriftPoint[] => {
    const value = past.verdict[figure];
    if (value === undefined || !Number.isFinite(value.low) || !Number.isFinite(value.high)) return [];
    return [{ at: endOf(window), value, window: window.id }];
  });

/**
 * Real tests scatter. Where trip point and response of several windows are the same to the last digit, a recording was
 * probably played again, or figures were copied.
 */
export const tooConstant = (evidence: readonly Evidence[]): Reason | undefined => {
  const groups = new Map<string, string[]>();
  for (const { window, past } of evidence.filter(isTest)) {
    const { tripPoint, response } = past.verdict;
    if (tripPoint === undefined || response === undefined) continue;
    const key = JSON.stringify([tripPoint, response]);
    groups.set(key, [...(groups.get(key) ?? []), window.id]);
  }
  const windows = [...groups.values()].find(({ length }) => length >= ALIKE);
  return windows && { code: 'too-constant', params: { windows } };
};
