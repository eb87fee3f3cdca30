import {
  atMost,
  type Conformity,
  decide,
  divide,
  type Interval,
  lessThan,
  type Outcome,
  type Reason,
  SECOND,
  scale,
} from '../measure/index.ts';
import { type Interlock, type Limit, levelAt } from '../rulebook/index.ts';
import { aspect, delayBand, REACTION, seconds } from './aspect.ts';
import { decided, decidedBetween, likelihood, OUTCOME_OF } from './decision.ts';
import { turn } from './levels.ts';
import { type Projection, project, type Region } from './region.ts';
import { initiating, type Trial } from './trial.ts';
import type { Aspect } from './types.ts';

/** Where a trip level lies against set point ± tolerance; both turned. */
const bandPlace = (trial: Trial, level: Interval): Conformity => {
  const { edges, interlock } = trial;
  return edges === undefined
    ? { place: 'undecided' }
    : decidedBetween(interlock, level, edges.outer, edges.inner);
};

const unitOf = (trial: Trial): { readonly allowed: Interval; readonly percent: boolean } => {
  const { cause } = trial.interlock;
  const percent = cause.kind === 'level' && cause.setPoint.of === 'normal' && cause.setPoint.offset === 0;
  if (cause.kind !== 'level' || trial.edges === undefined) return { allowed: { low: 0, high: 0 }, percent };
  const outer = turn(trial.edges.outer, cause.side);
  const inner = turn(trial.edges.inner, cause.side);
  return {
    allowed: { low: Math.min(outer.low, inner.low), high: Math.max(outer.high, inner.high) },
    percent,
  };
};

const percentOf = (trial: Trial, value: Interval): Interval | undefined => {
  const { normal } = trial.references;
  const share = normal && divide(value, normal);
  return share && scale(share, 100);
};

/** A ramp at most this fast (unit per second) would leave half of the band as doubt, at the same polling. */
const advisedRate = (trial: Trial, level: Interval, allowed: Interval): number => {
  const changed = initiating(trial)?.changed;
  const width = level.high - level.low;
  if (changed === undefined || !Number.isFinite(width) || width <= 0) return 0;
  const bracket = Math.max(changed.by - changed.after, 1) / SECOND;
  return (width / bracket) * Math.min(1, (allowed.high - allowed.low) / 2 / width);
};

/** In percent of normal where the set point is one, else in the unit of the signal. */
const shown = (trial: Trial, level: Interval, unit: string): Reason['params'] => {
  const { cause } = trial.interlock;
  if (cause.kind !== 'level') return {};
  const value = turn(level, cause.side);
  const { allowed, percent } = unitOf(trial);
  const share = percent ? percentOf(trial, value) : undefined;
  if (share === undefined) return { trip: value, allowed, unit, advised: advisedRate(trial, value, allowed) };
  const factor = cause.setPoint.factor * 100;
  const tolerance = cause.tolerance.factor * 100;
  const band = { low: factor - tolerance, high: factor + tolerance };
  return { trip: share, allowed: band, unit: '%', advised: advisedRate(trial, share, band) };
};

/** Some level of those that are left lies inside the set point band and keeps the limit too. */
const keepsBoth = (trial: Trial, level: Interval): boolean => {
  const { limit, cause } = trial.interlock;
  const plain = limit?.judgedAt === 'level' ? levelAt(limit.level, trial.references) : undefined;
  if (limit === undefined || plain === undefined || cause.kind !== 'level' || trial.edges === undefined)
    return true;
  const inside = {
    low: Math.max(level.low, trial.edges.outer.low),
    high: Math.min(level.high, trial.edges.inner.high),
  };
  return (
    inside.low > inside.high || limitPlace(trial, limit, turn(inside, cause.side), plain).place !== 'outside'
  );
};

const setPointWithDelay = (trial: Trial, region: Region, unit: string, band: Interval): Aspect[] => {
  const all = project(region);
  if (all.level === undefined || all.delay === undefined)
    return [aspect('set-point', 'inconclusive', 'trials-disagree')];
  const likely = project(region, band);
  const params = {
    ...shown(trial, all.level, unit),
    delay: seconds(all.delay),
    ...likelihood(trial.interlock, bandPlace(trial, all.level)),
  };
  const { place } = bandPlace(trial, all.level);
  const measured = atMost(band.low, all.delay.low) && atMost(all.delay.high, band.high);
  if (place === 'outside') return [aspect('set-point', 'fail', 'set-point-outside', params)];
  if (place === 'inside' && Number.isFinite(all.delay.high)) {
    return [aspect('set-point', 'pass', 'set-point-inside', params)];
  }
  if (likely.level === undefined) return [aspect('set-point', 'inconclusive', 'set-point-undecided', params)];
  if (bandPlace(trial, likely.level).place === 'outside' || !keepsBoth(trial, likely.level)) {
    const better = { ...shown(trial, likely.level, unit), delay: seconds(band) };
    return [aspect('set-point', 'fail', 'level-or-delay-outside', better)];
  }
  const code = measured ? 'set-point-undecided' : 'level-and-delay-not-separated';
  return [aspect('set-point', 'inconclusive', code, params)];
};

const DELAY_CODES: Readonly<Record<Outcome, string>> = {
  pass: 'delay-inside',
  fail: 'delay-outside',
  inconclusive: 'delay-undecided',
  'not-tested': 'delay-not-measured',
};

export const delayAspect = (interlock: Interlock, measured: Interval | undefined, band: Interval): Aspect => {
  const allowed = seconds(band);
  if (measured === undefined) return aspect('delay', 'not-tested', 'delay-not-measured', { allowed });
  const conformity = decided(interlock, measured, band);
  const outcome = OUTCOME_OF[conformity.place];
  if (outcome === 'inconclusive' && !Number.isFinite(measured.high)) {
    return aspect('delay', 'inconclusive', 'delay-not-measured', { allowed });
  }
  const params = { delay: seconds(measured), allowed, ...likelihood(interlock, conformity) };
  return aspect('delay', outcome, DELAY_CODES[outcome], params);
};

/** A one-sided limit by a rule other than bounds: the difference to it, against zero. */
const limitPlace = (trial: Trial, limit: Limit, value: Interval, plain: Interval): Conformity => {
  const [low, high] = limit.side === 'no-lower-than' ? [value, plain] : [plain, value];
  const spare = { low: low.low - high.high, high: low.high - high.low };
  const allowed = { low: 0, high: Number.POSITIVE_INFINITY, open: !limit.inclusive };
  if (trial.interlock.decision !== undefined && trial.interlock.decision.rule !== 'bounds') {
    return decide(spare, allowed, trial.interlock.decision);
  }
  const met = limit.inclusive ? atMost(high.high, low.low) : lessThan(high.high, low.low);
  if (met) return { place: 'inside', probability: 1 };
  const broken = limit.inclusive ? lessThan(low.high, high.low) : atMost(low.high, high.low);
  return broken ? { place: 'outside', probability: 0 } : { place: 'undecided' };
};

const LIMIT_CODES = { inside: 'limit-met', outside: 'limit-violated', undecided: 'limit-undecided' } as const;

const limitAspect = (trial: Trial, level: Interval | undefined, unit: string): Aspect[] => {
  const { limit, cause } = trial.interlock;
  if (limit === undefined || cause.kind !== 'level') return [];
  const measured = limit.judgedAt === 'effect' ? trial.trip : level;
  const plain = levelAt(limit.level, trial.references);
  if (plain === undefined) return [aspect('limit', 'inconclusive', 'no-nameplate', { basis: limit.basis })];
  if (measured === undefined)
    return [aspect('limit', 'not-tested', 'limit-not-tested', { basis: limit.basis })];
  const value = turn(measured, cause.side);
  const conformity = limitPlace(trial, limit, value, plain);
  const params = {
    trip: value,
    limit: plain,
    unit,
    basis: limit.basis,
    ...likelihood(trial.interlock, conformity),
  };
  return [aspect('limit', OUTCOME_OF[conformity.place], LIMIT_CODES[conformity.place], params)];
};

/** Held beyond the limit for longer than the interlock may take, and nothing acted: it would act too late, if at all. */
const idleAspect = (trial: Trial, unit: string): Aspect[] => {
  const { limit, cause } = trial.interlock;
  const { idle } = trial;
  if (limit === undefined || cause.kind !== 'level' || idle === undefined) return [];
  const plain = levelAt(limit.level, trial.references);
  const sided = (limit.side === 'no-lower-than') === (cause.side === 'below');
  if (plain === undefined || !sided || !lessThan(idle.level, turn(plain, cause.side).low)) return [];
  const value = turn({ low: idle.level, high: idle.level }, cause.side);
  const params = { value, seconds: idle.seconds, limit: plain, unit, basis: limit.basis };
  return [aspect('limit', 'fail', 'limit-without-action', params)];
};

/** Levels that are left if the interlock takes no longer than `most`; all that are left where it must have taken longer. */
const levelWithin = (region: Region, most: number): Interval | undefined =>
  project(region, { low: 0, high: most }).level ?? project(region).level;

/** Met where every level is that the usual reaction leaves, broken where every one is that the slowest allowed leaves. */
const limitAtOnce = (trial: Trial, likely: Interval, all: Interval, unit: string): Aspect[] =>
  limitAspect(trial, likely, unit).map((one) => {
    const [slowest] = one.outcome === 'fail' ? limitAspect(trial, all, unit) : [];
    return slowest ?? one;
  });

/**
 * Without a declared delay. A pass needs every level inside that the usual reaction leaves, a fail every level outside
 * that the slowest allowed one does. A slow ramp keeps both close together; a step in the same window measures it.
 */
const setPointAtOnce = (trial: Trial, trip: Interval, region: Region, unit: string): Aspect[] => {
  const { interlock } = trial;
  const bounds = interlock.decision === undefined || interlock.decision.rule === 'bounds';
  const within = bounds ? (initiating(trial)?.effect.within ?? 0) : 0;
  // Where it certainly took its time, half a second is no safe guess any more.
  const took = (project(region).delay?.low ?? 0) > 0;
  const usual = trial.jumped || took ? within : Math.min(within, REACTION);
  const likely = bounds ? levelWithin(region, usual) : trip;
  const all = bounds ? levelWithin(region, within) : trip;
  if (likely === undefined || all === undefined)
    return [aspect('set-point', 'inconclusive', 'trials-disagree')];
  const conformity = bandPlace(trial, likely);
  const params = { ...shown(trial, trip, unit), ...likelihood(interlock, conformity) };
  const limit = limitAtOnce(trial, likely, all, unit);
  if (conformity.place === 'inside')
    return [aspect('set-point', 'pass', 'set-point-inside', params), ...limit];
  if (bandPlace(trial, all).place === 'outside')
    return [aspect('set-point', 'fail', 'set-point-outside', params), ...limit];
  const reached = shown(trial, likely, unit)['trip'] ?? '';
  const told = { ...params, within: reached, reaction: seconds({ low: 0, high: usual }) };
  const code = bandPlace(trial, trip).place === 'inside' ? 'reaction-not-measured' : 'set-point-undecided';
  return [aspect('set-point', 'inconclusive', code, told), ...limit];
};

/** Set point, delay and limit from what is left of (level, delay) pairs. */
export const levelAspects = (trial: Trial, region: Region | undefined, unit: string): Aspect[] => {
  const { interlock } = trial;
  if (interlock.cause.kind !== 'level') return [];
  if (initiating(trial) === undefined) return idleAspect(trial, unit);
  const band = delayBand(interlock);
  if (region === undefined) return [];
  if (band === undefined) return trial.trip ? setPointAtOnce(trial, trial.trip, region, unit) : [];
  const { level, delay } = project(region);
  return [
    ...setPointWithDelay(trial, region, unit, band),
    delayAspect(interlock, delay, band),
    ...limitAspect(trial, level, unit),
  ];
};

export const figuresOf = (
  trial: Trial,
  region: Region | undefined,
): { tripPoint?: Interval; tripPercent?: Interval; delay?: Interval } => {
  const { cause } = trial.interlock;
  if (cause.kind !== 'level') return {};
  const pairs: Projection = region ? project(region) : {};
  const level = trial.interlock.delay === undefined ? trial.trip : pairs.level;
  if (level === undefined || initiating(trial) === undefined) return {};
  if (!Number.isFinite(level.low) || !Number.isFinite(level.high)) return {};
  const tripPoint = turn(level, cause.side);
  const tripPercent = cause.setPoint.of === 'normal' ? percentOf(trial, tripPoint) : undefined;
  const known = pairs.delay && Number.isFinite(pairs.delay.high);
  return {
    tripPoint,
    ...(tripPercent && { tripPercent }),
    ...(known && pairs.delay && { delay: seconds(pairs.delay) }),
  };
};
