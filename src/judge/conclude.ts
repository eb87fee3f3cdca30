import {
  allOf,
  atMost,
  divide,
  type Interval,
  lessThan,
  type Outcome,
  type Reason,
  SECOND,
  type Span,
  scale,
} from '../measure/index.ts';
import type { Interlock } from '../rulebook/index.ts';
import type { Watch } from './effects.ts';
import { levelAt, turn } from './levels.ts';
import { type Projection, project, type Region } from './region.ts';
import { segmentsOf } from './segments.ts';
import { initiating, isSubstituted, type Trial } from './trial.ts';
import type { Aspect, EffectSeen, TrialVerdict } from './types.ts';

const aspect = (name: string, outcome: Outcome, code: string, params: Reason['params'] = {}): Aspect => ({
  name,
  outcome,
  reason: { code, params },
});

const seconds = (micros: Interval): Interval => ({ low: micros.low / SECOND, high: micros.high / SECOND });

/** Time from the cause reaching its set point to a change, µs; `low` is -Infinity where the cause came later. */
export const responseOf = (trial: Trial, watch: Watch): Interval | undefined => {
  const { changed } = watch;
  if (changed === undefined || trial.reached === undefined) return undefined;
  return { low: Math.max(0, changed.after - trial.reached.by), high: changed.by - trial.reached.after };
};

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

/** A ramp at most this fast (unit per second) would leave half of the band as doubt, at the same polling. */
const advisedRate = (trial: Trial, level: Interval, allowed: Interval): number => {
  const changed = initiating(trial)?.changed;
  const width = level.high - level.low;
  if (changed === undefined || !Number.isFinite(width) || width <= 0) return 0;
  const bracket = Math.max(changed.by - changed.after, 1) / SECOND;
  return (width / bracket) * Math.min(1, (allowed.high - allowed.low) / 2 / width);
};

const percentOf = (trial: Trial, value: Interval): Interval | undefined => {
  const { normal } = trial.references;
  const share = normal && divide(value, normal);
  return share && scale(share, 100);
};

/** Delay ± tolerance in µs. */
const delayBand = (interlock: Interlock): Interval | undefined =>
  interlock.delay && {
    low: Math.max(0, interlock.delay.time - interlock.delay.tolerance),
    high: interlock.delay.time + interlock.delay.tolerance,
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

const delayAspect = (measured: Interval | undefined, band: Interval): Aspect => {
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
const normalAspect = (trial: Trial, allowance: number | undefined): Aspect[] => {
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

/** On a ramp the trip level itself is the start: what the delay may be, plus the lag behind the first effect. */
const rampLag = (trial: Trial, watch: Watch): Interval => {
  const first = initiating(trial);
  const delay = delayBand(trial.interlock)?.high ?? 0;
  if (first === watch || first?.changed === undefined || watch.changed === undefined)
    return { low: 0, high: delay };
  return {
    low: watch.changed.after - first.changed.by,
    high: watch.changed.by - first.changed.after + delay,
  };
};

const timeAspect = (trial: Trial, watch: Watch): Aspect => {
  const { effect } = watch;
  const name = `effect:${effect.name}`;
  const within = effect.within / SECOND;
  const response = responseOf(trial, watch);
  const late = response !== undefined && lessThan(effect.within, response.low);
  const params = { effect: effect.name, within, ...(response && { response: seconds(response) }) };
  if (late) return aspect(name, 'fail', 'effect-late', params);
  if (response && effect.notBefore > 0 && lessThan(response.high, effect.notBefore)) {
    return aspect(name, 'fail', 'effect-early', { ...params, notBefore: effect.notBefore / SECOND });
  }
  const soon = response !== undefined && atMost(response.high, effect.within);
  const notEarly = response !== undefined && atMost(effect.notBefore, response.low);
  if (soon && (effect.notBefore === 0 || notEarly)) return aspect(name, 'pass', 'effect-in-time', params);
  if (trial.interlock.cause.kind !== 'level' || trial.reached?.step === true || effect.notBefore > 0) {
    return aspect(name, 'inconclusive', 'effect-time-undecided', params);
  }
  const lag = rampLag(trial, watch);
  const told = {
    effect: effect.name,
    within,
    response: seconds({ low: Math.max(0, lag.low), high: lag.high }),
  };
  if (lessThan(effect.within, lag.low)) return aspect(name, 'fail', 'effect-late', told);
  return atMost(lag.high, effect.within)
    ? aspect(name, 'pass', 'effect-time-reported', told)
    : aspect(name, 'inconclusive', 'effect-time-undecided', told);
};

const ATTESTABLE = { motion: 'motion-stopped', feed: 'feed-stopped', alarm: 'horn-heard' } as const;

const cameAspect = (trial: Trial, watch: Watch): Aspect => {
  const { effect } = watch;
  const name = `effect:${effect.name}`;
  const attestable = ATTESTABLE[effect.class as keyof typeof ATTESTABLE];
  const by = attestable && trial.attested.get(attestable);
  if (effect.becomes.kind === 'stays') {
    return watch.changed
      ? aspect(name, 'fail', 'did-not-stay', { effect: effect.name })
      : aspect(name, initiating(trial) ? 'pass' : 'not-tested', 'stayed', { effect: effect.name });
  }
  if (watch.wasThere) return aspect(name, 'not-tested', 'effect-was-there', { effect: effect.name });
  if (isSubstituted(trial, watch)) {
    return by === undefined
      ? aspect(name, 'not-tested', 'effect-substituted', { effect: effect.name, signal: effect.name })
      : aspect(name, 'pass', 'effect-attested', { effect: effect.name, by });
  }
  if (watch.changed !== undefined) return timeAspect(trial, watch);
  if (watch.missedAt !== undefined) {
    const deadline = effect.within / SECOND;
    return aspect(name, 'fail', 'effect-missing', { effect: effect.name, deadline });
  }
  if (by !== undefined) return aspect(name, 'pass', 'effect-attested', { effect: effect.name, by });
  return trial.reached
    ? aspect(name, 'inconclusive', 'effect-awaited', { effect: effect.name, within: effect.within / SECOND })
    : aspect(name, 'inconclusive', 'effect-not-reached', { effect: effect.name });
};

/** A latch is proved only with the cause clear for the dwell, without reset and without restart. */
const latchAspect = (trial: Trial, watch: Watch): Aspect[] => {
  const { effect } = watch;
  if (effect.until === 'unstated' || !watch.changed || watch.wasThere || isSubstituted(trial, watch))
    return [];
  const name = `held:${effect.name}`;
  const params = { effect: effect.name, seconds: trial.interlock.dwell / SECOND };
  const end = (trial.clearSince ?? Number.POSITIVE_INFINITY) + trial.interlock.dwell;
  const reset = Math.min(
    trial.resetAt ?? Number.POSITIVE_INFINITY,
    trial.startAt ?? Number.POSITIVE_INFINITY,
  );
  const released = watch.released;
  if (effect.until === 'cause-clears') {
    const early = released !== undefined && trial.clearSince === undefined;
    return early ? [aspect(name, 'fail', 'released-while-cause', params)] : [];
  }
  if (released !== undefined && released.by <= reset)
    return [aspect(name, 'fail', 'released-on-recovery', params)];
  const held = watch.heldUntil !== undefined && watch.heldUntil >= end && reset >= end;
  return held
    ? [aspect(name, 'pass', 'held-until-reset', params)]
    : [aspect(name, 'not-tested', 'latch-not-tested', params)];
};

const orderAspects = (trial: Trial): Aspect[] =>
  trial.watches.flatMap((watch) =>
    watch.effect.after.flatMap((index) => {
      const before = trial.watches.find((one) => one.index === index);
      if (!watch.changed || !before?.changed || watch.wasThere || before.wasThere) return [];
      const params = { effect: watch.effect.name, after: before.effect.name };
      const name = `order:${watch.effect.name}`;
      if (before.changed.by <= watch.changed.after) return [aspect(name, 'pass', 'order-kept', params)];
      if (watch.changed.by <= before.changed.after) return [aspect(name, 'fail', 'order-broken', params)];
      return [aspect(name, 'inconclusive', 'order-undecided', params)];
    }),
  );

/** What a doubt about attribution leaves of the aspects: no pass; and a fail only where nothing could excuse it. */
const HARD = new Set([
  'effect-missing',
  'effect-late',
  'released-on-recovery',
  'did-not-stay',
  'normal-disagrees',
]);

const doubted = (trial: Trial, aspects: readonly Aspect[]): Aspect[] => {
  const doubts = [...trial.doubts.values()];
  const cautions = [...trial.cautions.values()];
  const reasons = [...doubts, ...cautions];
  if (reasons.length === 0) return [...aspects];
  const kept = aspects.map((one): Aspect => {
    if (one.outcome === 'not-tested' || one.name === 'normal') return one;
    const stands = one.outcome === 'fail' && doubts.length === 0 && HARD.has(one.reason.code);
    return stands ? one : { ...one, outcome: 'inconclusive' };
  });
  return [
    ...kept,
    ...reasons.map((reason) => ({ name: 'attribution', outcome: 'inconclusive' as const, reason })),
  ];
};

const effectsSeen = (trial: Trial): EffectSeen[] =>
  trial.watches.map((watch) => {
    const response = responseOf(trial, watch);
    const seen = watch.changed && !watch.wasThere;
    return {
      name: watch.effect.name,
      signal: watch.effect.signal,
      ...(seen &&
        watch.changed && { changed: { earliest: watch.changed.after, latest: watch.changed.by } as Span }),
      ...(seen && response && Number.isFinite(response.high) && { response: seconds(response) }),
    };
  });

/** The reasons that decide, worst first; a pass keeps its own. */
export const reasonsOf = (outcome: Outcome, aspects: readonly Aspect[]): readonly [Reason, ...Reason[]] => {
  const attribution = aspects.filter((one) => one.name === 'attribution');
  const same = aspects.filter((one) => one.outcome === outcome && one.name !== 'attribution');
  const worse = outcome === 'inconclusive' ? [...attribution, ...same] : [...same, ...attribution];
  const rest = aspects.filter((one) => !worse.includes(one) && one.outcome !== 'pass');
  const [first, ...others] = [...worse, ...rest].map((one) => one.reason);
  return [first ?? { code: 'no-trial', params: {} }, ...others];
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

const reachedAspect = (trial: Trial): Aspect[] =>
  trial.reached === undefined && initiating(trial) === undefined
    ? [aspect('cause', 'inconclusive', 'not-reached')]
    : [];

const standingAspect = (trial: Trial): Aspect[] => {
  if (trial.standing === 'complete' || trial.standing === 'unfinished') return [];
  const mark = trial.doubts.get(trial.standing);
  return mark ? [{ name: 'attribution', outcome: 'inconclusive', reason: mark }] : [];
};

/** Judges one trial, from everything that was seen of it. */
export const concludeTrial = (trial: Trial, unit: string, allowance: number | undefined): TrialVerdict => {
  const timeless = trial.interlock.cause.kind === 'level' ? undefined : delayBand(trial.interlock);
  const first = initiating(trial);
  const response = first && responseOf(trial, first);
  const aspects = doubted(trial, [
    ...reachedAspect(trial),
    ...levelAspects(trial, trial.region, unit),
    ...(timeless && first ? [delayAspect(response, timeless)] : []),
    ...normalAspect(trial, allowance),
    ...trial.watches.map((watch) => cameAspect(trial, watch)),
    ...orderAspects(trial),
    ...trial.watches.flatMap((watch) => latchAspect(trial, watch)),
    ...standingAspect(trial),
  ]);
  const outcome = allOf(aspects.map((one) => one.outcome));
  const classes = trial.watches.filter((one) => one.changed && !one.wasThere && !isSubstituted(trial, one));
  const proved = segmentsOf(
    trial.method,
    classes.map((one) => one.effect.class),
    trial.attested.has('horn-heard'),
  );
  return {
    outcome,
    reasons: reasonsOf(outcome, aspects),
    aspects,
    ...figuresOf(trial, trial.region),
    ...(trial.references.normal && { normal: trial.references.normal }),
    ...(response && Number.isFinite(response.high) && { response: seconds(response) }),
    effects: effectsSeen(trial),
    proved: outcome === 'pass' ? proved : [],
    trial: trial.number,
    method: trial.method,
    span: { earliest: Math.round(trial.clearUntil), latest: Math.round(trial.now) } as Span,
    standing: trial.standing === 'running' ? 'unfinished' : trial.standing,
    asFound: false,
  };
};
