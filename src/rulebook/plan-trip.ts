import { SECOND } from '../measure/index.ts';
import { bracketOf, leastBracketOf, lookOf, type Sight } from './plan-sight.ts';
import type { Sharpness } from './plan-value.ts';
import { longestDelay, polledTogether, roomOf, sharesInstant, timeDoubt, type View } from './plan-view.ts';
import type { Interlock } from './types.ts';

/** Delays are told apart in cells of a four-hundredth of four times the delay, or of 4 s more than it. Seconds. */
export const cellOf = (interlock: Interlock): number => {
  const delay = (interlock.delay?.time ?? 0) / SECOND;
  return Math.max(delay * 4, delay + 4) / 400;
};

/** The cells into which the ends of a measured delay fall are wholly in doubt. */
export const CELLS = 2;

/** Doubt of a delay that a step measures, seconds. */
export const delayDoubt = (view: View): number | undefined => {
  const doubt = view.interlock.delay === undefined ? undefined : timeDoubt(view);
  return doubt === undefined ? undefined : doubt + CELLS * cellOf(view.interlock);
};

/** The same where the looks fall as well as they can. */
export const leastDelayDoubt = (view: View): number | undefined => {
  const [{ sight }] = view.effects;
  return view.sight && sight && leastBracketOf(view.sight) + leastBracketOf(sight);
};

/** Looks that begin together stand in one grid: only whole looks count. Undefined where they do not. */
const gridSeconds = (view: View, sight: Sight, effect: Sight): number | undefined => {
  if (!polledTogether(view) || sight.late + effect.late > 0) return undefined;
  const looks = (time: number): number => Math.ceil(time / sight.every - 1e-9);
  const age = sight.age;
  if (view.interlock.delay === undefined) {
    return sight.every * (1 + looks(effect.early) + looks(sight.early)) + age;
  }
  return sight.every * (3 + 2 * looks(effect.early + sight.early + cellOf(view.interlock))) + age;
};

/**
 * Seconds of a ramp that cannot be told apart. Without a delay: the effect's own bracket, and the looks at the cause
 * just outside it; none where one answer of one scan holds both. With a delay: the same, and all delays that a step has
 * left.
 */
export const rampSeconds = (view: View): number | undefined => {
  const { sight, interlock } = view;
  const effect = view.effects[0].sight;
  if (sight === undefined || effect === undefined) return undefined;
  if (interlock.delay === undefined && sharesInstant(view)) return effect.every + sight.age;
  const grid = gridSeconds(view, sight, effect);
  const plain = bracketOf(effect) + (delayDoubt(view) ?? 0) + 2 * lookOf(sight);
  return grid ?? plain;
};

/**
 * By `bounds` neither bound may leave the room. By the others the middle decides, which lies half a width from the truth
 * at most, and is kept away by r × U = r × width / √3 (rectangular, U = 2 u; JCGM 106:2012, 8.3): then so much of the
 * width, and nothing else, must fit.
 */
const shareOf = ({ decision }: Interlock): number | undefined => {
  if (decision === undefined || decision.rule === 'bounds') return undefined;
  return 0.5 + (decision.rule === 'guard-band' ? decision.r / Math.sqrt(3) : 0);
};

const spareOf = (interlock: Interlock, sharpness: Sharpness, room: number): number => {
  const share = shareOf(interlock);
  return share === undefined ? room - sharpness.reach : room / share - sharpness.hull;
};

/** The fastest ramp, unit per second, at which a trip at the set point is inside band and limit at every phase. */
export const fastestRamp = (view: View): number | undefined => {
  const { places, sharpness, interlock } = view;
  const seconds = rampSeconds(view);
  if (places === undefined || sharpness === undefined || seconds === undefined || seconds <= 0)
    return undefined;
  const spare = spareOf(interlock, sharpness, roomOf(places));
  if (!(spare > 0)) return undefined;
  const { toLimit } = places;
  if (interlock.limit?.judgedAt !== 'effect' || toLimit === undefined || toLimit <= 0) return spare / seconds;
  const beyond = spareOf(interlock, sharpness, toLimit) / (seconds + longestDelay(interlock));
  return Math.min(spare / seconds, beyond);
};
