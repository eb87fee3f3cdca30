import { type Allowed, decide, type Interval, type Outcome, type Reason } from '../../measure/index.ts';
import type { Interlock } from '../../rulebook/index.ts';
import { formatBand, formatInterval, formatNumber, unitShown } from '../../words/index.ts';
import { byEstimate } from '../decision-text.ts';

/** A bound that the log stores as null is no bound. */
export const known = (one: Interval | undefined): one is Interval =>
  one !== undefined && Number.isFinite(one.low) && Number.isFinite(one.high);

/** An interval of a reason, where it has both bounds. */
export const intervalOf = ({ params }: Reason, name: string): Interval | undefined => {
  const value = params[name];
  return typeof value === 'object' && 'low' in value && known(value) ? value : undefined;
};

export const numberOf = ({ params }: Reason, name: string): number | undefined => {
  const value = params[name];
  return typeof value === 'number' && Number.isFinite(value) ? value : undefined;
};

/** Both bounds as `formatInterval` prints them, without a unit; the same twice for an exact value. */
export const ends = (one: Interval): readonly [string, string] => {
  const [low = '', high = low] = formatInterval(one).split(' … ');
  return [low, high];
};

/** One exact value as it was written. */
export const exact = (value: number, unit = ''): string => formatBand({ low: value, high: value }, unit);

const OUTCOME_OF = { inside: 'pass', outside: 'fail', undecided: 'inconclusive' } as const;

/** Five digits after the point at most: binary noise is no figure. */
const short = (value: number): string => formatNumber(Math.round(value * 1e5) / 1e5);

/** What the sum shows, and that the verdict does not follow it where something else is in doubt. */
const withDoubt = (words: string, shows: Outcome, outcome: Outcome): string =>
  shows === outcome || shows === 'inconclusive' ? words : `${words}, but not decided by this alone`;

const BY_BOUNDS = {
  inside: 'wholly inside',
  outside: 'wholly outside',
  undecided: 'across an edge, not decided',
} as const;

const BY_ESTIMATE = {
  inside: 'accepted',
  outside: 'rejected',
  undecided: 'between the two, not decided',
} as const;

/** Where an interval lies against what is allowed. */
export const placed = (outcome: Outcome, measured: Interval, allowed: Allowed): string => {
  const { place } = decide(measured, allowed, { rule: 'bounds' });
  return withDoubt(BY_BOUNDS[place], OUTCOME_OF[place], outcome);
};

const chance = (probability: number | undefined): string =>
  probability === undefined ? '' : `; probability of conformance ${short(probability * 100)} %`;

/** The limits themselves, as they were drawn in (`sign` 1) or moved out (-1) by the guard band. */
const moved = ({ low, high }: Allowed, guard: number, sign: 1 | -1): string => {
  const side = (value: number, by: number): string =>
    `${short(value)} ${by < 0 ? '−' : '+'} ${short(guard)} = ${short(value + by)}`;
  return [
    ...(Number.isFinite(low) ? [side(low, sign * guard)] : []),
    ...(Number.isFinite(high) ? [side(high, -sign * guard)] : []),
  ].join(' … ');
};

export interface Held {
  /** What is held: `Trip point`. */
  readonly what: string;
  readonly measured: Interval;
  readonly allowed: Allowed;
  readonly unit: string;
  readonly outcome: Outcome;
  readonly probability?: number | undefined;
}

/**
 * By guard band or simple acceptance: best estimate, expanded uncertainty of a rectangular spread (U = 2 u, GUM 4.3.7),
 * and the limits (JCGM 106:2012, 8.3).
 */
export const estimated = (interlock: Interlock, held: Held): string => {
  const { what, measured, allowed, outcome, probability } = held;
  const { decision = { rule: 'bounds' } } = interlock;
  const unit = unitShown(held.unit);
  const after = unit === '' ? '' : ` ${unit}`;
  const [low, high] = [short(measured.low), short(measured.high)];
  const best = `${what}: best estimate (${low} + ${high}) ÷ 2 = ${short((measured.low + measured.high) / 2)}${after}`;
  const { place } = decide(measured, allowed, decision);
  const words = withDoubt(BY_ESTIMATE[place], OUTCOME_OF[place], outcome);
  if (decision.rule !== 'guard-band') {
    const limits = Number.isFinite(allowed.high)
      ? formatBand(allowed, held.unit)
      : `at least ${short(allowed.low)}${after}`;
    return `${best}, against the limits themselves, ${limits}: ${words}${chance(probability)}.`;
  }
  const expanded = (measured.high - measured.low) / Math.sqrt(3);
  const guard = decision.r * expanded;
  const sums = `U = (${high} − ${low}) ÷ √3 = ${short(expanded)}${after}, w = ${short(decision.r)} × U = ${short(guard)}${after}`;
  const accepts = `accepted within ${moved(allowed, guard, 1)}${after}`;
  const rejects = `rejected beyond ${moved(allowed, guard, -1)}${after}`;
  return `${best}; ${sums}; ${accepts}, ${rejects}: ${words}${chance(probability)}.`;
};

/** A measured interval against an exact one, by the rule that the interlock names. */
export const decidedLine = (interlock: Interlock, held: Held, told: string): string =>
  byEstimate(interlock)
    ? estimated(interlock, held)
    : `${held.what} ${formatInterval(held.measured, held.unit)} against ${told}: ${placed(held.outcome, held.measured, held.allowed)}.`;
