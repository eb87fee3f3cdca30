import { atMost, type Interval, lessThan, SECOND, type Span } from '../measure/index.ts';
import { aspect, delayBand, REACTION, seconds } from './aspect.ts';
import { staysAspect } from './conclude-stays.ts';
import type { Watch } from './effects.ts';
import { initiating, isSubstituted, type Trial } from './trial.ts';
import type { Aspect, EffectSeen } from './types.ts';

/** Time from the cause reaching its set point to a change, µs; `low` is -Infinity where the cause came later. */
export const responseOf = (trial: Trial, watch: Watch): Interval | undefined => {
  const { changed } = watch;
  if (changed === undefined || trial.reached === undefined) return undefined;
  const high = changed.by - trial.reached.after;
  // It came before the cause was there: there is no response to it.
  return high < 0 ? undefined : { low: Math.max(0, changed.after - trial.reached.by), high };
};

/** On a ramp the trip level itself is the start: what the delay may be, plus the lag behind the first effect. */
const rampLag = (trial: Trial, watch: Watch): Interval => {
  const first = initiating(trial);
  // Without a declared delay there is a reaction all the same.
  const delay = delayBand(trial.interlock)?.high ?? Math.min(REACTION, first?.effect.within ?? 0);
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
  // A timer that sums had less to wait for: how soon it acts after one whole time beyond was not seen.
  const precharged = trial.charged && trial.interlock.delay?.onReturn === 'accumulates';
  const soon = response !== undefined && atMost(response.high, effect.within) && !precharged;
  const notEarly = response !== undefined && atMost(effect.notBefore, response.low);
  if (soon && (effect.notBefore === 0 || notEarly)) return aspect(name, 'pass', 'effect-in-time', params);
  if (
    trial.interlock.cause.kind !== 'level' ||
    trial.reached?.step === true ||
    effect.notBefore > 0 ||
    precharged
  ) {
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

/** What the program brings about itself, and need not where a person has stopped the machine already. */
const ofProgram = ({ effect }: Watch): boolean => effect.class === 'trip' || effect.class === 'alarm';

/**
 * Without a declared delay the lag on a ramp rests on a guess of the reaction. Where all trials together show that it
 * certainly took its time, what they leave of it counts instead.
 */
export const reconsidered = (one: Aspect, trial: Trial, reaction: Interval | undefined): Aspect => {
  const { delay } = trial.interlock;
  if (delay !== undefined || one.reason.code !== 'effect-time-reported' || !(reaction && reaction.low > 0))
    return one;
  const { response, within } = one.reason.params;
  if (typeof within !== 'number' || typeof response !== 'object' || !('high' in response)) return one;
  const allowed = initiating(trial)?.effect.within ?? 0;
  const more = (Math.min(reaction.high, allowed) - Math.min(REACTION, allowed)) / SECOND;
  if (more <= 0 || atMost(response.high + more, within)) return one;
  const params = { ...one.reason.params, response: { low: response.low, high: response.high + more } };
  return aspect(one.name, 'inconclusive', 'effect-time-undecided', params);
};

export const cameAspect = (trial: Trial, watch: Watch): Aspect => {
  const { effect } = watch;
  const name = `effect:${effect.name}`;
  const attestable = ATTESTABLE[effect.class as keyof typeof ATTESTABLE];
  const by = attestable && trial.attested.get(attestable);
  if (effect.becomes.kind === 'stays') return staysAspect(trial, watch);
  if (watch.wasThere) return aspect(name, 'not-tested', 'effect-was-there', { effect: effect.name });
  if (isSubstituted(trial, watch)) {
    return by === undefined
      ? aspect(name, 'not-tested', 'effect-substituted', { effect: effect.name, signal: effect.name })
      : aspect(name, 'pass', 'effect-attested', { effect: effect.name, by });
  }
  if (watch.changed !== undefined) return timeAspect(trial, watch);
  if (watch.missedAt !== undefined && trial.stoppedUnseen === true && ofProgram(watch)) {
    return aspect(name, 'inconclusive', 'trip-or-stop', { effect: effect.name });
  }
  if (watch.missedAt !== undefined) {
    const deadline = effect.within / SECOND;
    return aspect(name, 'fail', 'effect-missing', { effect: effect.name, deadline });
  }
  if (by !== undefined) return aspect(name, 'pass', 'effect-attested', { effect: effect.name, by });
  return trial.reached
    ? aspect(name, 'inconclusive', 'effect-awaited', { effect: effect.name, within: effect.within / SECOND })
    : aspect(name, 'inconclusive', 'effect-not-reached', { effect: effect.name });
};

/** An effect that went away while its cause was still there, and nobody had silenced it, was seen by luck. */
export const momentaryAspect = (trial: Trial, watch: Watch): Aspect[] =>
  watch.effect.until === 'unstated' &&
  watch.releasedWhile === true &&
  !watch.excused &&
  !isSubstituted(trial, watch)
    ? [
        aspect(`lasts:${watch.effect.name}`, 'inconclusive', 'effect-momentary', {
          effect: watch.effect.name,
        }),
      ]
    : [];

/**
 * A latch is proved only with the cause clear for the dwell, without reset and without restart. `clear`: since when the cause
 * was certainly clear; `held`: until when the effect was seen held behind that, with nobody at reset or start; µs since 1970.
 */
export const latchAspect = (trial: Trial, watch: Watch): Aspect[] => {
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
    const early = released !== undefined && (trial.clearSince === undefined || watch.releasedWhile === true);
    return early ? [aspect(name, 'fail', 'released-while-cause', params)] : [];
  }
  if (released !== undefined && released.by <= reset) {
    return trial.hidden === undefined
      ? [aspect(name, 'fail', 'released-on-recovery', params)]
      : [aspect(name, 'inconclusive', 'press-not-excluded', { signal: trial.hidden })];
  }
  const held = watch.heldUntil !== undefined && watch.heldUntil >= end && reset >= end;
  const { clearSince: clear = Number.POSITIVE_INFINITY } = trial;
  const until = Math.min(watch.heldUntil ?? clear, reset);
  const seen = {
    ...params,
    ...(clear < Number.POSITIVE_INFINITY && { clear }),
    ...(until > clear && { held: until }),
  };
  return held
    ? [aspect(name, 'pass', 'held-until-reset', seen)]
    : [aspect(name, 'not-tested', 'latch-not-tested', seen)];
};

export const orderAspects = (trial: Trial): Aspect[] =>
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

export const effectsSeen = (trial: Trial): EffectSeen[] =>
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
