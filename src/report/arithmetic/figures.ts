import {
  type Allowed,
  decide,
  type Interval,
  type Outcome,
  type Phrase,
  type Reason,
} from '../../measure/index.ts';
import type { Interlock } from '../../rulebook/index.ts';
import type { PhraseCode } from '../../words/index.ts';
import { byEstimate } from '../decision-text.ts';
import { part, sum } from '../phrases.ts';

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

const OUTCOME_OF = { inside: 'pass', outside: 'fail', undecided: 'inconclusive' } as const;

/** What the sum shows, and that the verdict does not follow it where something else is in doubt. */
const withDoubt = (place: Phrase, shows: Outcome, outcome: Outcome): Phrase =>
  shows === outcome || shows === 'inconclusive' ? place : part('not-by-this-alone', { place });

const BY_BOUNDS = {
  inside: 'wholly-inside',
  outside: 'wholly-outside',
  undecided: 'across-an-edge',
} as const;

const BY_ESTIMATE = {
  inside: 'accepted',
  outside: 'rejected',
  undecided: 'between-the-two',
} as const;

/** Where an interval lies against what is allowed. */
export const placed = (outcome: Outcome, measured: Interval, allowed: Allowed): Phrase => {
  const { place } = decide(measured, allowed, { rule: 'bounds' });
  return withDoubt(part(BY_BOUNDS[place]), OUTCOME_OF[place], outcome);
};

/** The limits themselves, drawn in or moved out by the guard band; the upper one may be none. */
const moved = (
  { low, high }: Allowed,
  guard: number,
  which: 'drawn-in' | 'moved-out',
  unit: string,
): Phrase => {
  const inward = which === 'drawn-in' ? guard : -guard;
  const below = { low, guard, lowMoved: low + inward, unit };
  return Number.isFinite(high)
    ? part(which, { ...below, high, highMoved: high - inward })
    : part(`${which}-low`, below);
};

export interface Held {
  /** What is held: `the-trip-point`. */
  readonly what: PhraseCode;
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
export const estimated = (interlock: Interlock, held: Held): Phrase => {
  const { what, measured, allowed, outcome, probability, unit } = held;
  const { decision = { rule: 'bounds' } } = interlock;
  const { low, high } = measured;
  const { place } = decide(measured, allowed, decision);
  const best = {
    unit,
    what: part(what),
    low,
    high,
    middle: (low + high) / 2,
    place: withDoubt(part(BY_ESTIMATE[place]), OUTCOME_OF[place], outcome),
    ...(probability !== undefined && { probability }),
  };
  if (decision.rule !== 'guard-band') {
    const limits = Number.isFinite(allowed.high)
      ? part('band-alone', { allowed: { low: allowed.low, high: allowed.high }, unit })
      : part('at-least', { least: allowed.low, unit });
    return sum('sum-estimate', { ...best, limits });
  }
  const expanded = (high - low) / Math.sqrt(3);
  const guard = decision.r * expanded;
  return sum('sum-guard-band', {
    ...best,
    expanded,
    r: decision.r,
    guard,
    accepts: moved(allowed, guard, 'drawn-in', unit),
    rejects: moved(allowed, guard, 'moved-out', unit),
  });
};

/** A measured delay against the declared one, by the rule that the interlock names; `told`: the declared one as a sum. */
export const decidedDelay = (interlock: Interlock, held: Held, told: Phrase['params']): Phrase =>
  byEstimate(interlock)
    ? estimated(interlock, held)
    : sum('sum-delay', {
        what: part(held.what),
        delay: held.measured,
        ...told,
        place: placed(held.outcome, held.measured, held.allowed),
      });
