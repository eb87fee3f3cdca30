import { lessThan, SECOND } from '../measure/index.ts';
import { bracketOf, leastBracketOf, lookOf, type Sight } from './plan-sight.ts';
import type { Sharpness } from './plan-value.ts';
import { longestDelay, polledTogether, roomOf, sharesInstant, timeDoubt, type View } from './plan-view.ts';
import type { Interlock } from './types.ts';

/** So many delays does the judge tell apart. */
const CELLS_OF_DELAY = 1_000;

const divisor = (a: number, b: number): number => (b < 1 ? a : divisor(b, a % b));

/** Width of cells that end at the edges of the allowed delay, and of the widest ones there are. Microseconds. */
const widthsOf = ({
  delay,
}: Pick<Interlock, 'delay'>): { readonly aligned: number; readonly widest: number } => {
  const { time, tolerance } = delay ?? { time: 0, tolerance: 0 };
  const widest = Math.max(time * 4, time + 4 * SECOND) / CELLS_OF_DELAY;
  const both = divisor(Math.round(time + tolerance), Math.round(Math.max(0, time - tolerance)));
  return { aligned: both > 0 ? both / Math.ceil(both / widest) : 0, widest };
};

const isAligned = (interlock: Pick<Interlock, 'delay'>): boolean => {
  const { aligned, widest } = widthsOf(interlock);
  return aligned > widest / 2;
};

/**
 * Delays are told apart in cells of a thousandth of four times the delay, or of 4 s more than it; a little less where
 * cells can then end at the edges of the allowed delay. Seconds.
 */
export const cellOf = (interlock: Pick<Interlock, 'delay'>): number => {
  const { aligned, widest } = widthsOf(interlock);
  return (isAligned(interlock) ? aligned : widest) / SECOND;
};

/** The cells into which the ends of a measured delay fall are wholly in doubt. */
const CELLS = 2;

/** Doubt of the delay, or of the reaction where none is declared, that a step measures. Seconds. */
export const delayDoubt = (view: View): number | undefined => {
  const doubt = timeDoubt(view);
  return doubt === undefined ? undefined : doubt + CELLS * cellOf(view.interlock);
};

/**
 * What an interlock without a declared delay takes all the same, in seconds: two scans, an output, a relay. Common
 * practice, no source; the judge allows the same.
 */
export const REACTION = 0.5;

/** What an interlock without a declared delay may take until something has measured it, seconds. */
export interface Reaction {
  /** Where the cause moved without a jump. */
  readonly usual: number;
  /** Where it jumped: as long as the effect that tells when it acted may take. */
  readonly most: number;
  /** A jump so long before the effect counts: as long as the slowest effect may take. */
  readonly since: number;
}

/** Undefined with a delay, and where the decision rests on what was read at the effect. */
export const reactionOf = ({ interlock }: View): Reaction | undefined => {
  const { decision, delay, effects } = interlock;
  if (delay !== undefined || (decision !== undefined && decision.rule !== 'bounds')) return undefined;
  const telling = effects.filter(({ becomes }) => becomes.kind !== 'stays');
  const acts = telling.filter((effect) => effect.class === 'command' || effect.class === 'trip');
  const longest = (of: typeof telling): number => Math.max(...of.map(({ within }) => within / SECOND), 0);
  const most = longest(acts.length > 0 ? acts : telling);
  return { usual: Math.min(most, REACTION), most, since: longest(telling) };
};

/** What the cells take from the tolerance of a delay: nothing where one ends at its edge. Seconds. */
export const lostToCells = ({ interlock, places }: View): number =>
  places === undefined || isAligned(interlock) ? 0 : CELLS * cellOf(interlock);

/** The same where the looks fall as well as they can. */
export const leastDelayDoubt = (view: View): number | undefined => {
  const [{ sight }] = view.effects;
  return view.sight && sight && leastBracketOf(view.sight) + leastBracketOf(sight);
};

/** Looks that begin together stand in one grid: only whole looks count. Undefined where they do not. */
const gridOf = (
  view: View,
  sight: Sight,
  effect: Sight,
): ((times: readonly number[]) => number) | undefined => {
  if (!polledTogether(view) || sight.late + effect.late > 0) return undefined;
  const looks = (time: number): number => Math.ceil(time / sight.every - 1e-9);
  return (times) => sight.every * times.reduce((sum, time) => sum + looks(time), 1) + sight.age;
};

/** The effect's own bracket, the looks at the cause just outside it, and `reaction` before. */
const aloneSeconds = (view: View, sight: Sight, effect: Sight, reaction: number): number =>
  gridOf(view, sight, effect)?.([effect.early + reaction, sight.early]) ??
  bracketOf(effect) + 2 * lookOf(sight) + reaction;

/** The same, with all delays that a step has left. */
const steppedSeconds = (view: View, sight: Sight, effect: Sight): number => {
  const each = effect.early + sight.early + cellOf(view.interlock);
  const looks = [sight.every, sight.every, each, each];
  return (
    gridOf(view, sight, effect)?.(looks) ?? bracketOf(effect) + (delayDoubt(view) ?? 0) + 2 * lookOf(sight)
  );
};

/**
 * Seconds of a ramp that the trip point as told is in doubt for. Without a delay: the effect's own bracket, and the
 * looks at the cause just outside it; none where one answer of one scan holds both. With a delay: the same, and all
 * delays that a step has left.
 */
export const rampSeconds = (view: View): number | undefined => {
  const { sight, interlock } = view;
  const effect = view.effects[0].sight;
  if (sight === undefined || effect === undefined) return undefined;
  if (interlock.delay !== undefined) return steppedSeconds(view, sight, effect);
  return sharesInstant(view) ? effect.every + sight.age : aloneSeconds(view, sight, effect, 0);
};

/** Seconds of a ramp that decide its set point; `stepped`: a step in the same window has measured the reaction. */
const decidingSeconds = (view: View, stepped: boolean): number | undefined => {
  const reaction = reactionOf(view);
  const { sight, interlock } = view;
  const effect = view.effects[0].sight;
  if (reaction === undefined || sight === undefined || effect === undefined) return rampSeconds(view);
  const alone = aloneSeconds(view, sight, effect, reaction.usual + cellOf(interlock));
  return stepped ? Math.min(alone, steppedSeconds(view, sight, effect)) : alone;
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

const slowEnough = (view: View, seconds: number | undefined): number | undefined => {
  const { places, sharpness, interlock } = view;
  const shown = rampSeconds(view);
  if (places === undefined || sharpness === undefined || seconds === undefined || shown === undefined)
    return undefined;
  const spare = spareOf(interlock, sharpness, roomOf(places));
  if (!(spare > 0) || seconds <= 0) return undefined;
  const { toLimit } = places;
  if (interlock.limit?.judgedAt !== 'effect' || toLimit === undefined || toLimit <= 0) return spare / seconds;
  const later = longestDelay(interlock) + (reactionOf(view)?.usual ?? 0);
  return Math.min(spare / seconds, spareOf(interlock, sharpness, toLimit) / (shown + later));
};

/**
 * The fastest ramp, unit per second, at which a trip at the set point is inside band and limit at every phase. It lasts
 * for two looks or more while it crosses half of the band, so that the judge never takes it for a jump (a quarter).
 */
export const fastestRamp = (view: View): number | undefined => slowEnough(view, decidingSeconds(view, false));

/** The same behind a step that has measured the reaction; undefined where that makes it no faster. */
export const steppedRamp = (view: View): number | undefined => {
  const alone = fastestRamp(view);
  const stepped = slowEnough(view, decidingSeconds(view, true));
  return stepped === undefined || alone === undefined || !lessThan(alone, stepped) ? undefined : stepped;
};

/**
 * Where a ramp must have become slow enough. Without a delay nothing in it may be taken for a jump while the effect may
 * be due.
 */
export const rampFrom = (view: View, ramp: number): number | undefined => {
  const { places, sight } = view;
  const effect = view.effects[0].sight;
  const seconds = decidingSeconds(view, false);
  if (places === undefined || sight === undefined || effect === undefined || seconds === undefined)
    return undefined;
  const since = reactionOf(view)?.since;
  const due = since === undefined ? 0 : since + bracketOf(effect) + lookOf(sight);
  return places.sign * (places.inner.high + ramp * Math.max(seconds, due));
};
