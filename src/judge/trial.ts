import {
  type Interval,
  lessThan,
  type Micros,
  type Reason,
  SECOND,
  type SignalId,
} from '../measure/index.ts';
import { causeSignals, type Delay, type Interlock, type References } from '../rulebook/index.ts';
import { longestDelay, REACTION } from './aspect.ts';
import { contactRows } from './cause-contact.ts';
import { courseOf } from './course.ts';
import { beginWatch, type Change, look, type Watch } from './effects.ts';
import { type Edges, turn } from './levels.ts';
import { cutShortAspect, onReturnAspect } from './on-return.ts';
import type { Position } from './position.ts';
import { heldBelow, loosen, type Region, resettingRegion } from './region.ts';
import { accumulatingRegion } from './region-accumulating.ts';
import { listOf, type Row, type Rows, swept, sweptBetween, turnedRows, upToResponse } from './rows.ts';
import { breachWithin, type Gap, gapWithin, historyOf, type Track } from './track.ts';
import type { Aspect, Attestation, Course, Mark, Method } from './types.ts';

/** A normal that an earlier window rested on. */
export interface EarlierNormal {
  readonly value: Interval;
  readonly window: string;
}

export type Standing = 'running' | 'complete' | 'aborted' | 'interrupted' | 'unfinished';

/** One excursion of the cause through its trip region. */
export interface Trial {
  readonly interlock: Interlock;
  readonly number: number;
  readonly method: Method;
  /** Latest instant at which the cause was certainly clear; it left after `leftAfter`. */
  readonly clearUntil: number;
  readonly leftAfter: number;
  /** Since when it had been clear. */
  readonly quietSince: number;
  readonly references: References;
  readonly edges?: Edges;
  /** Lowest value (turned) of the baseline: a level above it would have acted then. */
  readonly quietBelow: number;
  readonly watches: readonly Watch[];
  /** Last instant seen. */
  now: number;
  standing: Standing;
  /** Certainly beyond the band; the interlock must act. */
  reached?: { after: number; by: number; step: boolean };
  /** The cause has been clear again since (latest of the first reading). */
  clearSince: number | undefined;
  /** Value (turned) at the change of the initiating effect with no delay. */
  trip?: Interval;
  /** On its last way to the effect the cause went through much of the band between two readings. */
  jumped: boolean;
  /** Nothing acted although the cause (turned) was certainly below this for so long. */
  idle?: { readonly level: number; readonly seconds: number };
  region?: Region;
  /** The readings behind `trip` and `region` have all come. */
  settled: boolean;
  /** Asked once, when the initiating effect came. */
  settledAttribution: boolean;
  /** A reset or start was possible from here on. */
  resetAt?: number;
  startAt?: number;
  /** The trip bit stayed silent, and a person may have stopped the machine without being seen. */
  stoppedUnseen?: true;
  /** A button that is read too seldom: whether it was pressed cannot be told. */
  hidden?: string;
  /** Reasons that take away every verdict of this trial, and those that take away only a pass. */
  readonly doubts: Map<string, Reason>;
  readonly cautions: Map<string, Reason>;
  readonly attested: Map<Attestation, string>;
  earlier?: EarlierNormal;
  /** What else must give the normal: what each showed when the trial began, in the unit of the signal. */
  against: readonly { readonly signal: string; readonly value: Interval | undefined }[];
  /** What the instrument at the sensor showed at the trip. */
  observed?: Mark & { code: 'observed' };
  /** The value may have gone farther than this test allows, after this instant. */
  beyondAfter?: number;
  /** Earliest instant of the last reading of the cause. */
  lastEarliest: number;
  /** Longest unbroken time for which the cause was certainly there. */
  heldFor: number;
  /** It came back out of its region before the interlock acted. */
  returned: boolean;
  /** It may have been there, and certainly was not any more, before the interlock acted: a timer that sums has begun. */
  charged: boolean;
  entered: boolean;
  /** Value (turned) to which it certainly came back, while an effect that should end with it was seen on. */
  returnedTo?: number;
  onReturn: readonly Aspect[];
  /** How the cause was moved, told at the end. */
  course?: Course;
  /** Changes of outputs that have been looked at, so that each is asked about once. */
  readonly explained: Map<number, number>;
  /** All outputs have been looked at once. */
  looked: boolean;
}

export const beginTrial = (
  interlock: Interlock,
  number: number,
  method: Method,
  tracks: readonly Track[],
  references: References,
  edges: Edges | undefined,
  clear: {
    readonly earliest: number;
    readonly latest: number;
    readonly since: number;
    readonly quietBelow: number;
  },
): Trial => ({
  interlock,
  number,
  method,
  clearUntil: clear.latest,
  leftAfter: clear.earliest,
  quietSince: clear.since,
  references,
  ...(edges && { edges }),
  quietBelow: clear.quietBelow,
  watches: interlock.effects.flatMap((effect, index) => {
    const track = tracks[effect.signal];
    return track ? [beginWatch(effect, index, track, references, clear.earliest)] : [];
  }),
  lastEarliest: clear.earliest,
  heldFor: 0,
  returned: false,
  charged: false,
  entered: false,
  onReturn: [],
  now: clear.latest,
  clearSince: undefined,
  standing: 'running',
  jumped: false,
  settled: false,
  settledAttribution: false,
  doubts: new Map(),
  cautions: new Map(),
  attested: new Map(),
  against: [],
  explained: new Map(),
  looked: false,
});

const acts = ({ effect }: Watch): boolean => effect.class === 'command' || effect.class === 'trip';

/** One of the effects that come first: a command or a trip, or any where the interlock has none of these. */
const leads = (trial: Trial, watch: Watch): boolean => acts(watch) || !trial.watches.some(acts);

/**
 * The effect that tells when the interlock acted: the first that came and was not there before. A horn may sound for
 * the alarm that comes before; where a command or a trip came too, they tell.
 */
export const initiating = (trial: Trial): Watch | undefined => {
  let found: Watch | undefined;
  for (const watch of trial.watches) {
    const { changed, effect, wasThere } = watch;
    if (changed === undefined || wasThere || effect.becomes.kind === 'stays') continue;
    const better = found?.changed === undefined || (acts(watch) && !acts(found));
    const sooner =
      found?.changed !== undefined && acts(watch) === acts(found) && changed.by < found.changed.by;
    if (better || sooner) found = watch;
  }
  return found;
};

/** By these methods the sensor is replaced or cheated. */
const REPLACES: readonly Method[] = ['injected', 'heated', 'displaced', 'blocked', 'forced'];

/** While a sensor is replaced, its signal is the cause and no evidence of motion. */
export const substitutes = ({ cause }: Interlock, method: Method, signal: SignalId): boolean =>
  causeSignals(cause).includes(signal) && REPLACES.includes(method);

export const isSubstituted = (trial: Trial, watch: Watch): boolean =>
  substitutes(trial.interlock, trial.method, watch.effect.signal);

const followCause = (trial: Trial, position: Position, track: Track): void => {
  const { newsEarliest: earliest, newsLatest: latest } = track;
  if (position.clear) trial.clearSince ??= latest;
  else trial.clearSince = undefined;
  if (!position.possible && trial.reached !== undefined && initiating(trial) === undefined)
    trial.returned = true;
  if (position.possible) trial.entered = true;
  else if (trial.entered && initiating(trial) === undefined) trial.charged = true;
  if (position.beyond) trial.beyondAfter ??= trial.lastEarliest;
  trial.lastEarliest = earliest;
  if (position.certain && position.reachedBy !== undefined)
    trial.heldFor = Math.max(trial.heldFor, earliest - position.reachedBy);
  if (!position.certain || position.reachedBy === undefined) return;
  if (trial.reached !== undefined && initiating(trial) !== undefined) return;
  trial.reached = {
    after: position.reachedAfter ?? Number.NEGATIVE_INFINITY,
    by: position.reachedBy,
    step: position.step,
  };
};

/** Time without evidence of the cause; a fault code or a silence that is the cause is its evidence. */
export const gapOfCause = (trial: Trial, cause: Track, from: number, to: number): Gap | undefined => {
  const { kind } = trial.interlock.cause;
  if (kind === 'silent') return undefined;
  const moves = kind === 'level' || kind === 'contact' || kind === 'band' || kind === 'group';
  const gap = (moves ? breachWithin : gapWithin)(cause, from, to);
  return kind === 'sensor-fault' && gap?.why === 'sensor-fault' ? undefined : gap;
};

/** The interlock certainly acted: what else it should bring about must come too, where its cause has not gone. */
const actedBy = (trial: Trial): number | undefined => {
  const first = initiating(trial);
  return first?.changed && acts(first) && trial.clearSince === undefined ? first.changed.by : undefined;
};

/**
 * No effect is a fail only where the cause was certainly beyond its band, or the interlock certainly acted, without a
 * gap, past the deadline.
 */
const missing = (trial: Trial, watch: Watch, cause: Track, track: Track, certain: boolean): void => {
  if (watch.changed || watch.wasThere || watch.missedAt !== undefined) return;
  if (watch.effect.becomes.kind === 'stays' || isSubstituted(trial, watch)) return;
  const from = certain && trial.reached !== undefined ? trial.reached.by : actedBy(trial);
  if (from === undefined) return;
  const deadline = from + watch.effect.within;
  const seen = Math.min(track.last?.earliest ?? 0, cause.newsEarliest);
  if (track.absent || seen <= deadline) return;
  if (gapOfCause(trial, cause, from, seen) || gapWithin(track, from, seen)) return;
  watch.missedAt = deadline;
};

/** Whether the cause was certainly there after an effect had gone, and had not come back in between. */
const followReleased = (watch: Watch, cause: Track, position: Position | undefined): void => {
  const { released } = watch;
  if (released === undefined || position === undefined || watch.over) return;
  if (!position.possible) watch.over = true;
  else if (position.certain && cause.newsEarliest >= released.by) watch.releasedWhile = true;
};

const follow = (
  trial: Trial,
  watch: Watch,
  tracks: readonly Track[],
  position: Position | undefined,
): void => {
  const certain = position?.certain === true;
  const track = tracks[watch.effect.signal];
  const cause = tracks[trial.interlock.cause.signal];
  if (track === undefined || cause === undefined) return;
  look(watch, track, trial.references);
  followReleased(watch, cause, position);
  missing(trial, watch, cause, track, certain);
  const clear = trial.clearSince;
  const held = watch.changed && !watch.released && track.absent === undefined && clear !== undefined;
  if (held && (track.last?.earliest ?? 0) > clear) watch.heldUntil = track.last?.earliest ?? clear;
};

/** Without a declared delay there is a reaction all the same: as long as the effect may take. */
const NO_DELAY: Delay = { time: 0, tolerance: 0, onReturn: 'resets' };

/** All (level, delay) pairs that explain the trial, by the way in which the delay treats a return. */
const regionOf = (trial: Trial, cause: Track, turned: Rows, changed: Change | undefined): Region => {
  const { delay = NO_DELAY } = trial.interlock;
  const rows = upToEffect(turned, changed);
  const from = trial.quietSince;
  const until = changed?.after ?? trial.now;
  // While the cause certainly never came back, both kinds of delay are one.
  const unseen = cause.gaps.some((gap) => gap.to > trial.leftAfter && gap.from < until);
  if (delay.onReturn === 'accumulates' && (trial.returned || unseen)) {
    return ofContact(trial, accumulatingRegion(delay, rows, cause.gaps, from, changed, until));
  }
  const gaps = longGaps(cause);
  return ofContact(trial, resettingRegion(delay, rows, gaps, from, changed, trial.now, trial.quietBelow));
};

/**
 * What was read after the effect explains nothing. Where cause and effect share their answers, the value of the answer
 * that first showed the effect is the last one that counts.
 */
const upToEffect = (rows: Rows, changed: Change | undefined): Rows =>
  changed === undefined || changed.byResponse === 0
    ? rows
    : upToResponse(rows, changed.byResponse, changed.by);

/** Gaps that are longer than the signal may go without news. */
const longGaps = (track: Track): readonly Gap[] =>
  track.gaps.filter((gap) => gap.to - gap.from > track.def.agedAfter);

const isPlaced = ({ cause }: Interlock): boolean => cause.kind === 'level' || cause.kind === 'contact';

/** A move by more than this share of the band between two readings is a jump. */
const JUMPS = 0.25;

const hasJumped = (trial: Trial, rows: readonly Row[], { after, by }: Change, within: Micros): boolean => {
  const { edges } = trial;
  if (edges === undefined) return false;
  const allowed = JUMPS * (edges.inner.high - edges.outer.low);
  const last = rows.filter((row) => row.latest > after - within && row.earliest <= by);
  return last.some((row, index) => {
    const before = last[index - 1] ?? row;
    return Math.max(row.low - before.high, before.low - row.high) > allowed;
  });
};

/** Works out trip value and region once every reading that they need has come. */
export const settle = (trial: Trial, cause: Track): void => {
  const changed = initiating(trial)?.changed;
  const { interlock } = trial;
  if (trial.settled || changed === undefined || !isPlaced(interlock)) return;
  if (interlock.cause.kind === 'level') {
    const { after, by, afterResponse, byResponse } = changed;
    const { side } = interlock.cause;
    const history = historyOf(cause);
    const shared =
      interlock.delay === undefined ? sweptBetween(history, afterResponse, byResponse) : undefined;
    const plain = shared ?? swept(history, after, by);
    if (plain === undefined) return;
    trial.trip = turn(plain, side);
  }
  const rows = causeRows(trial, cause);
  if (swept(rows, changed.after, changed.by) === undefined) return;
  trial.settled = true;
  const within = initiating(trial)?.effect.within ?? 0;
  const list = listOf(rows);
  trial.jumped = hasJumped(trial, list, changed, within);
  // Asked now: later the cause may come and go again.
  trial.onReturn = cutShortAspect(trial, changed);
  trial.region = regionOf(trial, cause, rows, changed);
  const lately = hasJumped(trial, list, changed, longestDelay(interlock) + REACTION);
  if (trial.region !== undefined && lately && !isFar(trial)) loosen(trial.region, REACTION);
};

/**
 * The value at the effect lies certainly beyond the band by more than its width. An input filter takes the longer the
 * less a jump goes beyond the level, and nobody knows how long: up to the usual reaction is allowed for.
 */
const isFar = ({ edges, trip }: Trial): boolean =>
  edges !== undefined && trip !== undefined && lessThan(trip.high, 2 * edges.outer.low - edges.inner.high);

const firstWithin = ({ effects }: Interlock): number =>
  Math.max(...effects.filter(({ becomes }) => becomes.kind === 'state').map(({ within }) => within), 0);

/** What is known only at the end: a trial in which nothing acted still excludes levels and short delays. */
export const settleEnd = (trial: Trial, cause: Track): void => {
  const { interlock } = trial;
  if (!isPlaced(interlock)) return;
  const changed = initiating(trial)?.changed;
  const rows = causeRows(trial, cause);
  const course = courseOf(trial, listOf(rows), changed?.by ?? trial.now);
  if (course !== undefined) trial.course = course;
  if (changed === undefined) {
    trial.region = regionOf(trial, cause, rows, undefined);
    const needed = longestDelay(interlock) + firstWithin(interlock);
    const held = heldBelow(rows, longGaps(cause), trial.leftAfter, trial.now, needed);
    if (Number.isFinite(held)) trial.idle = { level: held, seconds: needed / SECOND };
  }
  if (interlock.delay !== undefined && trial.returned && trial.onReturn.length === 0)
    trial.onReturn = onReturnAspect(trial, {
      rows,
      gaps: longGaps(cause),
      silences: cause.gaps,
      from: trial.quietSince,
      until: trial.now,
      changed,
    });
};

/** The cause's readings, turned so that it falls; of a contact, 1 at rest and -1 in its acting state. */
const causeRows = ({ interlock: { cause } }: Trial, track: Track): Rows => {
  if (cause.kind === 'contact') return contactRows(cause.state, track);
  const rows = historyOf(track);
  return cause.kind === 'level' && cause.side === 'above' ? turnedRows(rows) : rows;
};

/** A contact has one level, between its two states: a delay that needs another is none. */
const ofContact = (trial: Trial, region: Region): Region => {
  if (trial.interlock.cause.kind !== 'contact') return region;
  for (let cell = 0; cell < region.low.length; cell += 1) {
    if ((region.low[cell] ?? 0) < 0 && (region.high[cell] ?? 0) > 0) continue;
    region.low[cell] = Number.POSITIVE_INFINITY;
    region.high[cell] = Number.NEGATIVE_INFINITY;
  }
  return region;
};

/** The value at which an effect went away with its cause; and how far the cause has come back meanwhile. */
const followRelease = (trial: Trial, cause: Track): void => {
  const { cause: level } = trial.interlock;
  if (level.kind !== 'level' || trial.clearSince === undefined || cause.last === undefined) return;
  trial.returnedTo = Math.max(trial.returnedTo ?? Number.NEGATIVE_INFINITY, turn(cause.last, level.side).low);
  for (const watch of trial.watches) {
    if (watch.released === undefined || watch.releaseValue !== undefined) continue;
    const value = swept(historyOf(cause), watch.released.after, watch.released.by);
    if (value !== undefined) watch.releaseValue = turn(value, level.side);
  }
};

/** Takes the newest readings of all signals into account; `position` is that of the cause under the trial's levels. */
export const followTrial = (
  trial: Trial,
  tracks: readonly Track[],
  position: Position | undefined,
  now: number,
): void => {
  const cause = tracks[trial.interlock.cause.signal];
  if (cause === undefined) return;
  trial.now = now;
  if (position) followCause(trial, position, cause);
  for (const watch of trial.watches) follow(trial, watch, tracks, position);
  if (trial.interlock.release !== undefined) followRelease(trial, cause);
  settle(trial, cause);
};

/**
 * The interlock acted, and something that follows from it may still come in time: the machine coasts down. Or what must
 * stay has to be seen for longer.
 */
const awaits = (trial: Trial): boolean => {
  const { reached, interlock } = trial;
  if (reached === undefined || trial.resetAt !== undefined) return false;
  const acted = initiating(trial) !== undefined;
  return trial.watches.some((watch) => {
    const stays = watch.effect.becomes.kind === 'stays';
    if (watch.changed || trial.now > reached.by + watch.effect.within) return false;
    if (stays) return interlock.cause.kind !== 'band' && watch.brokenAt === undefined;
    // A delay that should have begun anew may go on all the same.
    if (!acted && interlock.delay !== undefined && leads(trial, watch)) return true;
    return acted && !watch.wasThere && watch.missedAt === undefined && !isSubstituted(trial, watch);
  });
};

/** The cause has dwelt in its clear band, and every effect that can still speak has been seen past that time. */
export const isOver = (trial: Trial, tracks: readonly Track[]): boolean => {
  const { clearSince } = trial;
  if (clearSince === undefined) return false;
  const end = clearSince + trial.interlock.dwell;
  const cause = tracks[trial.interlock.cause.signal];
  if ((cause?.newsEarliest ?? 0) < end) return false;
  if (awaits(trial)) return false;
  const grace = end + 2 * trial.interlock.dwell + 1_000_000;
  return (
    trial.now > grace ||
    trial.watches.every(({ effect }) => {
      const track = tracks[effect.signal];
      return track === undefined || (track.absent === undefined && (track.last?.earliest ?? 0) >= end);
    })
  );
};
