import {
  atMost,
  divide,
  type Interval,
  lessThan,
  type Outcome,
  type Reason,
  SECOND,
  scale,
} from '../measure/index.ts';
import { levelAt } from '../rulebook/index.ts';
import { aspect, delayBand, seconds } from './aspect.ts';
import { turn } from './levels.ts';
import { type Projection, project, type Region } from './region.ts';
import { initiating, type Trial } from './trial.ts';
import type { Aspect } from './types.ts';

/** The trip level that a trial or a window allows, and where it lies against set point ± tolerance. */
const bandPlace = (trial: Trial, level: Interval): 'inside' | 'outside' | 'undecided' => {
  const { edges } = trial;
  if (edges === undefined) return 'undecided';
  if (atMost(edges.outer.high, level.low) && atMost(level.high, edges.inner.low)) return 'inside';
  if (lessThan(level.high, edges.outer.low) || lessThan(edges.inner.high, level.low)) return 'outside';
  return 'undecided';
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

const setPointWithDelay = (trial: Trial, region: Region, unit: string, band: Interval): Aspect[] => {
  const all = project(region);
  if (all.level === undefined || all.delay === undefined)
    return [aspect('set-point', 'inconclusive', 'trials-disagree')];
  const likely = project(region, band);
  const params = { ...shown(trial, all.level, unit), delay: seconds(all.delay) };
  const place = bandPlace(trial, all.level);
  const measured = atMost(band.low, all.delay.low) && atMost(all.delay.high, band.high);
  if (place === 'outside') return [aspect('set-point', 'fail', 'set-point-outside', params)];
  if (place === 'inside' && Number.isFinite(all.delay.high)) {
    return [aspect('set-point', 'pass', 'set-point-inside', params)];
  }
  if (likely.level === undefined) return [aspect('set-point', 'inconclusive', 'set-point-undecided', params)];
  if (bandPlace(trial, likely.level) === 'outside') {
    const better = { ...shown(trial, likely.level, unit), delay: seconds(band) };
    return [aspect('set-point', 'fail', 'level-or-delay-outside', better)];
  }
  const code = measured ? 'set-point-undecided' : 'level-and-delay-not-separated';
  return [aspect('set-point', 'inconclusive', code, params)];
};

const delayPlace = (measured: Interval, band: Interval): Outcome => {
  if (atMost(band.low, measured.low) && atMost(measured.high, band.high)) return 'pass';
  return lessThan(measured.high, band.low) || lessThan(band.high, measured.low) ? 'fail' : 'inconclusive';
};

const DELAY_CODES: Readonly<Record<Outcome, string>> = {
  pass: 'delay-inside',
  fail: 'delay-outside',
  inconclusive: 'delay-undecided',
  'not-tested': 'delay-not-measured',
};

export const delayAspect = (measured: Interval | undefined, band: Interval): Aspect => {
  const allowed = seconds(band);
  if (measured === undefined) return aspect('delay', 'not-tested', 'delay-not-measured', { allowed });
  const outcome = delayPlace(measured, band);
  if (outcome === 'inconclusive' && !Number.isFinite(measured.high)) {
    return aspect('delay', 'inconclusive', 'delay-not-measured', { allowed });
  }
  return aspect('delay', outcome, DELAY_CODES[outcome], { delay: seconds(measured), allowed });
};

const limitAspect = (trial: Trial, level: Interval | undefined, unit: string): Aspect[] => {
  const { limit, cause } = trial.interlock;
  if (limit === undefined || cause.kind !== 'level') return [];
  const measured = limit.judgedAt === 'effect' ? trial.trip : level;
  const plain = levelAt(limit.level, trial.references);
  if (plain === undefined) return [aspect('limit', 'inconclusive', 'no-nameplate', { basis: limit.basis })];
  if (measured === undefined)
    return [aspect('limit', 'not-tested', 'limit-not-tested', { basis: limit.basis })];
  const value = turn(measured, cause.side);
  const params = { trip: value, limit: plain, unit, basis: limit.basis };
  const [low, high] = limit.side === 'no-lower-than' ? [value, plain] : [plain, value];
  const certainlyMet = limit.inclusive ? atMost(high.high, low.low) : lessThan(high.high, low.low);
  const certainlyNot = limit.inclusive ? lessThan(low.high, high.low) : atMost(low.high, high.low);
  if (certainlyMet) return [aspect('limit', 'pass', 'limit-met', params)];
  return certainlyNot
    ? [aspect('limit', 'fail', 'limit-violated', params)]
    : [aspect('limit', 'inconclusive', 'limit-undecided', params)];
};

/** Set point, delay and limit from what is left of (level, delay) pairs; for no delay, from the trip value alone. */
export const levelAspects = (trial: Trial, region: Region | undefined, unit: string): Aspect[] => {
  const { interlock } = trial;
  if (interlock.cause.kind !== 'level') return [];
  const band = delayBand(interlock);
  if (band === undefined) {
    if (trial.trip === undefined) return [];
    const place = bandPlace(trial, trial.trip);
    const code = {
      inside: 'set-point-inside',
      outside: 'set-point-outside',
      undecided: 'set-point-undecided',
    }[place];
    const outcome = ({ inside: 'pass', outside: 'fail', undecided: 'inconclusive' } as const)[place];
    return [
      aspect('set-point', outcome, code, shown(trial, trial.trip, unit)),
      ...limitAspect(trial, trial.trip, unit),
    ];
  }
  if (region === undefined || initiating(trial) === undefined) return [];
  const { level, delay } = project(region);
  return [
    ...setPointWithDelay(trial, region, unit, band),
    delayAspect(delay, band),
    ...limitAspect(trial, level, unit),
  ];
};

/** Agreement of the controller's normal with the nameplate. */
export const normalAspect = (trial: Trial, allowance: number | undefined): Aspect[] => {
  const { normal, nameplate } = trial.references;
  const { cause } = trial.interlock;
  if (cause.kind !== 'level' || cause.setPoint.of !== 'normal' || normal === undefined) return [];
  if (nameplate === undefined) return [aspect('normal', 'pass', 'no-nameplate', { basis: '' })];
  const share = divide(normal, nameplate);
  const limit = allowance ?? 0.05;
  const params = { normal, nameplate, allowance: limit * 100 };
  if (share === undefined) return [aspect('normal', 'inconclusive', 'normal-undecided', params)];
  if (atMost(1 - limit, share.low) && atMost(share.high, 1 + limit))
    return [aspect('normal', 'pass', 'normal-agrees', params)];
  const off = lessThan(share.high, 1 - limit) || lessThan(1 + limit, share.low);
  return off
    ? [aspect('normal', 'fail', 'normal-disagrees', params)]
    : [aspect('normal', 'inconclusive', 'normal-undecided', params)];
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
