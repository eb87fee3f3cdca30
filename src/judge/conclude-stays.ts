import { type Interval, SECOND } from '../measure/index.ts';
import { aspect } from './aspect.ts';
import type { Change, Watch } from './effects.ts';
import { initiating, type Trial } from './trial.ts';
import type { Aspect } from './types.ts';

/** The span in which the effect must not come: from the cause being there, for as long as is asked. */
const spanOf = (trial: Trial, watch: Watch): Interval | undefined => {
  const from = trial.reached?.by ?? initiating(trial)?.changed?.by;
  return from === undefined ? undefined : { low: from, high: from + watch.effect.within };
};

/** The value may have gone farther than this test allows before the change. */
const overshot = (trial: Trial, change: Change): boolean =>
  trial.beyondAfter !== undefined && change.by > trial.beyondAfter;

/**
 * What must stay as it is: downstream runs on, a start is refused, nothing acts just inside the set point. A change
 * fails, unless the cause went farther than it should; a pass was seen unbroken for the whole time.
 */
export const staysAspect = (trial: Trial, watch: Watch): Aspect => {
  const { effect } = watch;
  const { cause } = trial.interlock;
  const name = `effect:${effect.name}`;
  const params = { effect: effect.name, seconds: effect.within / SECOND };
  if (watch.changed !== undefined) {
    return overshot(trial, watch.changed)
      ? aspect(name, 'inconclusive', 'band-overshot', params)
      : aspect(name, 'fail', 'did-not-stay', params);
  }
  const span = spanOf(trial, watch);
  if (span === undefined) return aspect(name, 'not-tested', 'stay-not-tested', params);
  if (cause.kind === 'band' && trial.heldFor < cause.hold) {
    const held = { effect: effect.name, seconds: trial.heldFor / SECOND, wanted: cause.hold / SECOND };
    return aspect(name, 'inconclusive', 'not-held-long-enough', held);
  }
  const end = cause.kind === 'band' ? span.low + cause.hold : span.high;
  return watch.stayedUntil >= end && (watch.brokenAt === undefined || watch.brokenAt > end)
    ? aspect(name, 'pass', 'stayed', params)
    : aspect(name, 'inconclusive', 'stay-not-seen', params);
};
