import { type Interval, SECOND } from '../measure/index.ts';
import { levelAt } from './level.ts';
import { bracketOf } from './plan-sight.ts';
import { cellOf, delayDoubt, REACTION, reactionOf } from './plan-trip.ts';
import { longestDelay, type Seen, timeDoubt, type View } from './plan-view.ts';
import type { Cause, Interlock } from './types.ts';

/** A level to hold the cause at, such that its readings are on the right side; and for how long, seconds. */
export interface Hold {
  readonly level: number;
  readonly seconds: number;
}

/** A test that holds the cause on either side of the set point. */
export interface HoldTest {
  /** Just inside, at the edge of the tolerance: it must not act, and then can act nowhere nearer to normal. */
  readonly inside: Hold;
  /** The deepest level at which acting is still a pass by itself. */
  readonly acting: Hold;
  /** Just outside: an interlock that does not act here has failed. */
  readonly outside: Hold;
}

/** What the interlock's own outputs bring about; the rest follows from them, whatever the cause does meanwhile. */
const isOwn = ({ effect }: Seen): boolean =>
  !effect.cascade && effect.class !== 'motion' && effect.class !== 'feed';

/** How long the cause must last, seconds. */
export interface Keep {
  /** Until an own output that has not come has certainly not come in time. */
  readonly own: number;
  /** Until that is so for every effect: coasting down, feeders. */
  readonly all: number;
}

/** How long a cause must be there before it counts, seconds; undefined for one that nobody holds. */
export const beforeOf = (cause: Cause): number | undefined => {
  switch (cause.kind) {
    case 'level':
    case 'contact':
    case 'sensor-fault':
      return 0;
    case 'no-pulses':
    case 'silent':
    case 'stuck':
      return cause.after / SECOND;
    default:
      return undefined;
  }
};

/** Undefined where readings come from a file, and for a cause that is not held. */
export const keepOf = (view: View): Keep | undefined => {
  const before = beforeOf(view.interlock.cause);
  if (before === undefined) return undefined;
  const times = view.effects.flatMap((seen) => {
    const doubt = timeDoubt(view, seen);
    return doubt === undefined ? [] : [{ seen, time: before + seen.effect.within / SECOND + doubt }];
  });
  if (times.length < view.effects.length) return undefined;
  const own = times.filter(({ seen }) => isOwn(seen));
  const longest = (of: typeof times): number => Math.max(...of.map(({ time }) => time));
  return { own: longest(own.length > 0 ? own : times), all: longest(times) };
};

/** What certainly lies in a band, in the unit of its signal; `low` above `high` where nothing does. */
export const bandEdges = ({ interlock: { cause }, references }: View): Interval | undefined => {
  if (cause.kind !== 'band') return undefined;
  const near = levelAt(cause.near, references);
  const far = levelAt(cause.far, references);
  if (near === undefined || far === undefined) return undefined;
  return cause.side === 'below' ? { low: far.high, high: near.low } : { low: near.high, high: far.low };
};

/** Where a cause that is a band must be held, and for how long; undefined where no reading certainly lies in it. */
export const bandOf = (view: View): { readonly within: Interval; readonly seconds: number } | undefined => {
  const { sharpness, sight, interlock } = view;
  const edges = bandEdges(view);
  if (interlock.cause.kind !== 'band' || edges === undefined) return undefined;
  if (sharpness === undefined || sight === undefined) return undefined;
  const within = { low: edges.low + sharpness.reach, high: edges.high - sharpness.reach };
  const seconds = interlock.cause.hold / SECOND + bracketOf(sight);
  return within.low < within.high ? { within, seconds } : undefined;
};

/** A guard band of r × width / √3 at both ends must fit beside the middle of what the two holds leave. */
const heldShare = ({ decision }: Interlock): number =>
  decision?.rule === 'guard-band' ? Math.min(1, Math.sqrt(3) / (2 * decision.r)) : 1;

/** Undefined where the levels are not known, or nothing fits between set point and tolerance. */
export const holdOf = (view: View): HoldTest | undefined => {
  const { places, sharpness, interlock } = view;
  const doubt = timeDoubt(view);
  const keep = keepOf(view);
  if (places === undefined || sharpness === undefined || doubt === undefined || keep === undefined)
    return undefined;
  const { reach } = sharpness;
  const share = heldShare(interlock);
  const inside = places.setPoint + share * (places.inner.low - places.setPoint) - reach;
  const acting = places.setPoint - share * (places.setPoint - places.outer.high) + reach;
  if (!(inside > acting)) return undefined;
  // From one hold to the other is a jump: without a delay it may have taken as long as its effect may.
  const reaction = reactionOf(view);
  const delay = reaction?.most ?? longestDelay(interlock);
  // Nor is it known what a filter made of the jump: the judge allows for as long as the usual reaction.
  const timed = interlock.delay !== undefined || reaction !== undefined;
  const quiet = delay + (timed ? cellOf(interlock) + REACTION : 0);
  const { sign } = places;
  return {
    inside: { level: sign * inside, seconds: quiet + doubt },
    acting: { level: sign * acting, seconds: delay + doubt },
    outside: { level: sign * (places.outer.low - reach), seconds: keep.own },
  };
};

/**
 * A step from the clear band to this reading or beyond separates level and delay (or reaction) in the same window as a
 * ramp: it must lie deeper than the lowest level that the ramp leaves for an interlock that acts at once.
 */
export const stepOf = (view: View, ramp: number | undefined): number | undefined => {
  const { places, sharpness, interlock, sight } = view;
  const doubt = delayDoubt(view);
  if (places === undefined || sharpness === undefined || sight === undefined || doubt === undefined)
    return undefined;
  const delay = reactionOf(view)?.usual ?? longestDelay(interlock);
  const seconds = delay + doubt + 2 * bracketOf(sight);
  const lowest = places.outer.low - sharpness.reach - sharpness.hull - (ramp ?? 0) * seconds;
  // Nearer than the band is wide, a filter could take long.
  const deepest = Math.min(lowest, 2 * places.outer.low - places.inner.high - sharpness.reach);
  return places.sign > 0 ? Math.max(0, deepest) : -deepest;
};
