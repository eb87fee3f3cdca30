import { atMost, type Interval, lessThan, type Reason, SECOND } from '../measure/index.ts';
import type { Feasibility, TripPlan } from './feasibility.ts';

/** A reading of the cause: microseconds, and bounds in the unit of its signal. */
export interface CauseReading {
  readonly earliest: number;
  readonly latest: number;
  readonly low: number;
  readonly high: number;
}

/** What to tell whoever moves the cause, now. Rates towards the trip, in the unit of `params.unit` a second. */
export interface Coached extends Reason {
  /** How fast the cause certainly moves; negative: away from the trip. */
  readonly rate?: Interval;
  /** How fast it may, so that a trip at the set point stays decided. */
  readonly allowed?: number;
}

/** A rate that is not clear within this time is called so. Seconds. */
const LONGEST = 10;

/** A hold is told to a tenth of a second, never too short. */
const tenths = (seconds: number): number => Math.ceil(seconds * 10 - 1e-6) / 10;

/** Newest first, so that only what is needed is looked at. */
const backwards = function* (rows: readonly CauseReading[]): Generator<CauseReading> {
  for (let index = rows.length - 1; index >= 0; index -= 1) {
    const row = rows[index];
    if (row !== undefined) yield row;
  }
};

/** How fast a value fell (sign 1) or rose (-1) from one reading to another, whatever it was within its bounds. */
const rateBetween = (from: CauseReading, to: CauseReading, sign: 1 | -1): Interval | undefined => {
  const shortest = (to.earliest - from.latest) / SECOND;
  const longest = (to.latest - from.earliest) / SECOND;
  if (shortest <= 0) return undefined;
  const least = sign > 0 ? from.low - to.high : to.low - from.high;
  const most = sign > 0 ? from.high - to.low : to.high - from.low;
  return { low: least / (least > 0 ? longest : shortest), high: most / (most > 0 ? shortest : longest) };
};

/** Over the shortest time that tells whether it is more than `allowed`; else over the longest there is. */
const rateOf = (rows: readonly CauseReading[], allowed: number, sign: 1 | -1): Interval | undefined => {
  const newest = rows.at(-1);
  let rate: Interval | undefined;
  if (newest === undefined) return undefined;
  for (const row of backwards(rows)) {
    if (newest.latest - row.latest > LONGEST * SECOND) break;
    const found = rateBetween(row, newest, sign);
    if (found === undefined) continue;
    rate = found;
    if (lessThan(allowed, rate.low) || atMost(rate.high, allowed)) break;
  }
  return rate;
};

type Holds = (row: CauseReading) => boolean;

/** For how long, seconds, every reading has been so; undefined: the newest is not. */
const heldFor = (rows: readonly CauseReading[], holds: Holds): number | undefined => {
  const newest = rows.at(-1);
  let since: number | undefined;
  for (const row of backwards(rows)) {
    if (!holds(row)) break;
    since = row.latest;
  }
  return newest === undefined || since === undefined ? undefined : (newest.latest - since) / SECOND;
};

const holding = (held: number, needed: number): Coached =>
  lessThan(held, needed)
    ? { code: 'coach-hold', params: { left: tenths(needed - held) } }
    : { code: 'coach-held', params: {} };

interface Zone {
  readonly holds: Holds;
  readonly seconds: number;
}

const between =
  (a: number, b: number): Holds =>
  (row) =>
    atMost(Math.min(a, b), row.low) && atMost(row.high, Math.max(a, b));

/** Where the cause may be held: on either side of the set point while it stands; just outside in any case. */
const zonesOf = (plan: Feasibility, trip: TripPlan, sign: 1 | -1): { standing: Zone[]; outside?: Zone } => {
  const { hold } = plan;
  const { edges, setPoint } = trip;
  if (hold === undefined || edges === undefined || setPoint === undefined) return { standing: [] };
  const beyond: Holds = (row) =>
    sign > 0 ? lessThan(row.high, edges.outside) : lessThan(edges.outside, row.low);
  return {
    standing: [
      { holds: between(edges.inside, setPoint), seconds: hold.inside.seconds },
      { holds: between(setPoint, edges.outside), seconds: hold.acting.seconds },
    ],
    outside: { holds: beyond, seconds: hold.outside.seconds },
  };
};

/** The rate against what is allowed, told in percent of normal where the set point is. */
const moving = (trip: TripPlan, rate: Interval, allowed: number, code: string, level?: number): Coached => {
  const factor = trip.normal === undefined ? 1 : 100 / trip.normal;
  const unit = trip.normal === undefined ? trip.unit : '%';
  const shown = { low: rate.low * factor, high: rate.high * factor };
  const most = allowed * factor;
  return {
    code,
    params: { rate: shown, allowed: most, unit, ...(level !== undefined && { level: level * factor }) },
    rate: shown,
    allowed: most,
  };
};

const coachLevel = (plan: Feasibility, trip: TripPlan, rows: readonly CauseReading[]): Coached => {
  const { edges, rampFrom } = trip;
  const newest = rows.at(-1);
  if (newest === undefined || edges === undefined) return { code: 'coach-no-reading', params: {} };
  const sign = edges.outside < edges.inside ? 1 : -1;
  const allowed = trip.fastestRamp ?? 0;
  const { standing, outside } = zonesOf(plan, trip, sign);
  const beyond = outside && heldFor(rows, outside.holds);
  if (outside !== undefined && beyond !== undefined) return holding(beyond, outside.seconds);
  const rate = rateOf(rows, allowed, sign);
  if (rate === undefined) return { code: 'coach-no-reading', params: {} };
  const begins = rampFrom ?? edges.inside;
  const far = sign > 0 ? lessThan(begins, newest.low) : lessThan(newest.high, begins);
  if (far) return moving(trip, rate, allowed, 'coach-approach', begins);
  if (rate.low <= 0) {
    for (const zone of standing) {
      const held = heldFor(rows, zone.holds);
      if (held !== undefined) return holding(held, zone.seconds);
    }
  }
  if (allowed === 0) return { code: 'coach-stand-still', params: {} };
  if (lessThan(allowed, rate.low)) return moving(trip, rate, allowed, 'coach-slow-down');
  const code = atMost(rate.high, allowed) ? 'coach-in-range' : 'coach-unclear';
  return moving(trip, rate, allowed, code);
};

/**
 * Tells whoever moves the cause whether it moves slowly enough, or how long it must still be held. `rows` are the last
 * readings, oldest first, at least as many seconds as the longest hold; it looks back no farther than it must.
 */
export const coach = (plan: Feasibility, rows: readonly CauseReading[]): Coached => {
  if (plan.tripPoint !== undefined) return coachLevel(plan, plan.tripPoint, rows);
  const { present, keep } = plan;
  if (present === undefined || keep === undefined) return { code: 'coach-no-reading', params: {} };
  const held = heldFor(rows, between(present.low, present.high));
  return held === undefined ? { code: 'coach-not-there', params: {} } : holding(held, keep.own);
};
