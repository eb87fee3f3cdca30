import { type Interval, lessThan } from '../measure/index.ts';
import { type Effect, levelAt, type References } from '../rulebook/index.ts';
import { turn } from './levels.ts';
import { type Newest, runNow, type Track } from './track.ts';

/** A change seen between two readings: after `after`, no later than `by`. */
export interface Change {
  readonly after: number;
  readonly by: number;
  /** The answers that bracket it; 0 where the source is not scan-consistent. */
  readonly afterResponse: number;
  readonly byResponse: number;
}

/** What is known of one effect in one trial. */
export interface Watch {
  readonly effect: Effect;
  readonly index: number;
  /** It was there before the cause moved: not tested. */
  wasThere: boolean;
  /** For `stays`: the change that should not have been. */
  changed?: Change;
  /** It went away again; `while`: the cause was certainly still there. */
  released?: Change;
  releasedWhile?: boolean;
  /** The cause has been out of its trip region since the release. */
  over?: boolean;
  /** Somebody silenced or reset it: it went by right. */
  excused?: boolean;
  /** What the cause (turned) can have been then. */
  releaseValue?: Interval;
  /** It was seen held until here after the cause had cleared. */
  heldUntil?: number;
  /** The cause was certainly beyond its band past this deadline, and the effect was not there. */
  missedAt?: number;
  /** For `stays`: seen as it should be up to here, and where that was first interrupted. */
  stayedUntil: number;
  brokenAt?: number;
  /** Newest reading that certainly did not show a measured effect. */
  notYet: { earliest: number; response: number };
}

/** The newest measured value; none of a signal that has states. */
const measuredNow = ({ discrete, last }: Track): Newest | undefined => (discrete ? undefined : last);

/** Does the newest reading show the effect? Undefined where it cannot be told. */
const shows = (effect: Effect, track: Track, references: References): boolean | undefined => {
  const { becomes } = effect;
  if (becomes.kind !== 'level') {
    const run = runNow(track);
    if (run === undefined || Number.isNaN(run.state)) return undefined;
    return becomes.kind === 'state' ? run.state === becomes.state : run.state !== becomes.state;
  }
  const level = levelAt(becomes.level, references);
  const row = track.absent === undefined ? measuredNow(track) : undefined;
  if (level === undefined || row === undefined) return undefined;
  const value = turn(row, becomes.side);
  const edge = turn(level, becomes.side);
  if (lessThan(value.high, edge.low)) return true;
  return lessThan(value.low, edge.high) ? undefined : false;
};

const changeOf = (watch: Watch, track: Track): Change => {
  const run = track.discrete ? track.runs.at(-1) : undefined;
  if (run !== undefined) {
    return { after: run.after, by: run.from, afterResponse: run.afterResponse, byResponse: run.fromResponse };
  }
  const row = measuredNow(track);
  return {
    after: watch.notYet.earliest,
    by: row?.latest ?? Number.POSITIVE_INFINITY,
    afterResponse: watch.notYet.response,
    byResponse: row?.response ?? 0,
  };
};

/** Begins to watch when the cause leaves its clear band, which it did after `leftAfter`. */
export const beginWatch = (
  effect: Effect,
  index: number,
  track: Track,
  references: References,
  leftAfter: number,
): Watch => {
  const watch: Watch = {
    effect,
    index,
    wasThere: false,
    stayedUntil: Number.NEGATIVE_INFINITY,
    notYet: { earliest: Number.NEGATIVE_INFINITY, response: 0 },
  };
  if (shows(effect, track, references) !== true) return watch;
  const change = changeOf(watch, track);
  if (effect.becomes.kind === 'level' || change.by <= leftAfter) watch.wasThere = true;
  return watch;
};

/** Takes the newest readings into account. */
export const look = (watch: Watch, track: Track, references: References): void => {
  const shown = shows(watch.effect, track, references);
  if (watch.wasThere && watch.effect.becomes.kind !== 'stays') {
    // Once it has certainly gone, it can come anew.
    if (shown === false) watch.wasThere = false;
    else return;
  }
  const row = track.last;
  if (watch.effect.becomes.kind === 'stays' && watch.changed === undefined) {
    if (track.absent !== undefined && track.absent.to - track.absent.from > track.def.agedAfter)
      watch.brokenAt ??= track.absent.from;
    if (shown === false && row !== undefined) watch.stayedUntil = row.earliest;
  }
  if (shown === undefined) return;
  if (!shown) {
    if (watch.changed !== undefined && watch.released === undefined) watch.released = changeOf(watch, track);
    if (row !== undefined) watch.notYet = { earliest: row.earliest, response: row.response };
    return;
  }
  watch.changed ??= changeOf(watch, track);
};
