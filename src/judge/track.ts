import { type Absence, absenceAt, FLAGS, type Readings, SECOND } from '../measure/index.ts';
import type { SignalDef } from '../signal/index.ts';
import { dropRows, latestAt, newRows, putRow, type Row, type Rows } from './rows.ts';

/** The newest good reading of a signal. Each one after it writes over it: nobody may keep it. */
export type Newest = Row & { readonly flags: number };

/** Readings in a row that show the same state. */
export interface Run {
  readonly state: number;
  /** Earliest instant of the last reading of the state before: the change came after it. -Infinity: none. */
  readonly after: number;
  readonly afterResponse: number;
  /** Latest instant of the first reading of this state: the change came no later. */
  readonly from: number;
  readonly fromResponse: number;
  /** First and last reading of the run. */
  firstEarliest: number;
  lastEarliest: number;
  lastLatest: number;
}

/** Time without a value. */
export interface Gap {
  readonly from: number;
  to: number;
  readonly why: Absence;
  /** It came after this instant (earliest of the reading before) and no later than that (latest of its first reading). */
  readonly after: number;
  readonly seen: number;
  /** The same of the whole silence, whatever reasons it has had. */
  readonly lostAfter: number;
  readonly lostSeen: number;
  /** Earliest instant of the newest absence. */
  toEarliest: number;
}

/** What the judge remembers of one signal: bounded, oldest first. */
export interface Track {
  readonly def: SignalDef;
  readonly discrete: boolean;
  /** How long rows are kept. */
  readonly horizon: number;
  /** Measured values; undefined where nobody ever looks back at them. */
  readonly rows: Rows | undefined;
  runs: Run[];
  gaps: Gap[];
  last: { -readonly [Name in keyof Newest]: number } | undefined;
  /** Good readings so far. */
  taken: number;
  /** When the newest reading was taken, value or not. */
  newsEarliest: number;
  newsLatest: number;
  /** Longest times between two readings, in which a state may have come and gone unseen: see `lookAway`. */
  stride: Stride;
  /** Usual time between two readings, from the earliest instant of one to the latest of the next; what is lost counts little. */
  usual: number;
  /** Set while the newest reading is an absence. */
  absent: Gap | undefined;
  /** Latest instant at which a forced or substituted value was seen. */
  forcedAt: number;
  /** Latest instant at which its server called the value uncertain, or values before it had been lost. */
  doubtfulAt: number;
}

/** A usual stride shrinks by half of the way, and grows by a twentieth at most: one long gap is no new usage. */
const follow = (usual: number, stride: number): number => {
  if (usual === 0) return stride;
  return stride < usual ? (usual + stride) / 2 : Math.min(stride, usual * 1.05);
};

/** The newest reading, where it is a value. */
export const valueNow = (track: Track | undefined): Newest | undefined =>
  track?.absent === undefined ? track?.last : undefined;

/** What a signal showed, for whoever is among those that `keepsRows` names. */
export const historyOf = ({ def, rows }: Track): Rows => {
  if (rows === undefined) throw new RangeError(`no history is kept of ${def.name}`);
  return rows;
};

const DOUBTFUL = FLAGS.uncertain | FLAGS.overflow;

/** Two spans of `REMEMBERED` readings: the one that runs and the one before it, so that none is forgotten too soon. */
interface Stride {
  now: number;
  before: number;
  count: number;
}

const REMEMBERED = 8;

/** Nobody looked for so long. */
const lookAway = (stride: Stride, time: number): void => {
  if (stride.count >= REMEMBERED) {
    stride.before = stride.now;
    stride.now = 0;
    stride.count = 0;
  }
  stride.now = Math.max(stride.now, time);
  stride.count += 1;
};

/** History kept for measured values and the most rows of it; runs and gaps kept. */
const HORIZON = 180 * SECOND;
const SPARE = 30 * SECOND;
const MOST_ROWS = 8_192;
const MOST_RUNS = 64;
const MOST_GAPS = 32;

/** `kept`: somebody looks back at its values; `reach`: how far at most. */
export const newTrack = (def: SignalDef, kept = true, reach = 0): Track => ({
  def,
  horizon: Math.max(HORIZON, reach + SPARE),
  discrete: def.states.length > 0,
  rows: kept ? newRows() : undefined,
  runs: [],
  gaps: [],
  last: undefined,
  absent: undefined,
  taken: 0,
  newsEarliest: Number.NEGATIVE_INFINITY,
  newsLatest: Number.NEGATIVE_INFINITY,
  stride: { now: 0, before: 0, count: 0 },
  usual: 0,
  forcedAt: Number.NEGATIVE_INFINITY,
  doubtfulAt: Number.NEGATIVE_INFINITY,
});

/** Rows are looked through for old ones once so many have gathered. */
const FEW_ROWS = 256;

const forgetRows = (rows: Rows, since: number): void => {
  const { length } = rows;
  if (length > MOST_ROWS * 2) dropRows(rows, length - MOST_ROWS);
  else if (length > FEW_ROWS && latestAt(rows, FEW_ROWS / 2) < since) {
    let keep = 0;
    while (keep < length && latestAt(rows, keep) < since) keep += 1;
    dropRows(rows, Math.max(0, keep - 1));
  }
};

const forget = (track: Track, now: number): void => {
  if (track.rows !== undefined) forgetRows(track.rows, now - track.horizon);
  if (track.runs.length > MOST_RUNS) track.runs = track.runs.slice(-MOST_RUNS / 2);
  if (track.gaps.length > MOST_GAPS) track.gaps = track.gaps.slice(-MOST_GAPS / 2);
};

const takeAbsence = (track: Track, why: Absence, earliest: number, latest: number): void => {
  const gap = track.absent;
  if (gap?.why === why) {
    gap.to = latest;
    gap.toEarliest = earliest;
    return;
  }
  if (gap !== undefined) gap.to = latest;
  track.absent = {
    from: gap?.from ?? track.last?.latest ?? earliest,
    to: latest,
    why,
    after: gap?.toEarliest ?? track.last?.earliest ?? Number.NEGATIVE_INFINITY,
    seen: latest,
    lostAfter: gap?.lostAfter ?? track.last?.earliest ?? Number.NEGATIVE_INFINITY,
    lostSeen: gap?.lostSeen ?? latest,
    toEarliest: earliest,
  };
  track.gaps.push(track.absent);
};

/**
 * A reading that shows the state before the present one, and can have been taken before it: what a gateway keeps comes
 * now and then behind what is newer. It tells of no return.
 */
const mayBeOlder = (track: Track, state: number, earliest: number): boolean => {
  const before = track.runs.at(-2);
  const now = track.runs.at(-1);
  return before !== undefined && now !== undefined && state === before.state && earliest <= now.from;
};

/** `state`: NaN where it cannot be told. */
const takeState = (track: Track, state: number, earliest: number, latest: number, response: number): void => {
  const run = track.runs.at(-1);
  if (run !== undefined && run.state === state) {
    run.lastEarliest = earliest;
    run.lastLatest = latest;
    return;
  }
  if (mayBeOlder(track, state, earliest)) return;
  track.runs.push({
    state,
    after: track.last?.earliest ?? Number.NEGATIVE_INFINITY,
    afterResponse: track.last?.response ?? 0,
    from: latest,
    fromResponse: response,
    firstEarliest: earliest,
    lastEarliest: earliest,
    lastLatest: latest,
  });
};

/** Nobody said that there was no value, but none came for longer than the signal may go without: that is a gap too. */
const noteSilence = (track: Track, earliest: number): void => {
  const { last } = track;
  if (last === undefined || earliest - last.latest <= track.def.agedAfter) return;
  const at = { after: last.earliest, seen: earliest, lostAfter: last.earliest, lostSeen: earliest };
  track.gaps.push({ from: last.latest, to: earliest, why: 'aged', ...at, toEarliest: earliest });
};

const takeValue = (
  track: Track,
  columns: Readings,
  index: number,
  earliest: number,
  latest: number,
): void => {
  const low = columns.low[index] ?? 0;
  const high = columns.high[index] ?? 0;
  const response = columns.response[index] ?? 0;
  const flags = columns.flags[index] ?? 0;
  if ((flags & FLAGS.forced) !== 0) track.forcedAt = latest;
  if ((flags & DOUBTFUL) !== 0) track.doubtfulAt = latest;
  if (track.discrete) takeState(track, low === high ? low : Number.NaN, earliest, latest, response);
  const { last } = track;
  if (last === undefined) track.last = { earliest, latest, low, high, response, flags };
  else {
    last.earliest = earliest;
    last.latest = latest;
    last.low = low;
    last.high = high;
    last.response = response;
    last.flags = flags;
  }
  track.taken += 1;
  if (track.discrete || track.rows === undefined || track.last === undefined) return;
  putRow(track.rows, track.last);
};

/** Takes row `index` of the columns into the track. A value ends a gap at its earliest instant. */
export const take = (track: Track, columns: Readings, index: number): void => {
  const earliest = columns.earliest[index] ?? 0;
  const latest = columns.latest[index] ?? 0;
  track.newsEarliest = earliest;
  track.newsLatest = latest;
  const why = absenceAt(columns.why[index] ?? 0);
  if (why !== undefined) {
    takeAbsence(track, why, earliest, latest);
    forget(track, latest);
    return;
  }
  if (track.absent !== undefined) {
    track.absent.to = earliest;
    track.absent = undefined;
  } else noteSilence(track, earliest);
  const { last } = track;
  if (last !== undefined) {
    const stride = latest - last.earliest;
    lookAway(track.stride, stride);
    track.usual = follow(track.usual, stride);
  }
  takeValue(track, columns, index, earliest, latest);
  forget(track, latest);
};

/** The run that is on now; undefined while there is no value. */
export const runNow = (track: Track): Run | undefined => (track.absent ? undefined : track.runs.at(-1));

/** The signal certainly shows `state` now, and has since the returned instant (latest of its first reading). */
export const heldSince = (track: Track, state: number): number | undefined => {
  const run = runNow(track);
  return run?.state === state ? run.from : undefined;
};

const gapLonger = (track: Track, from: number, to: number, longest: number): Gap | undefined =>
  track.gaps.find((gap) => gap.from < to && gap.to > from && gap.to - gap.from > longest);

/** A gap longer than the signal may go without news, that touches (from, to). */
export const gapWithin = (track: Track, from: number, to: number): Gap | undefined =>
  gapLonger(track, from, to, track.def.agedAfter);

/** The shortest time for which a cause goes away and comes back, or comes and goes. Common practice, no source. */
const SHORTEST_RETURN = 0.4 * SECOND;
/** A gap of as many usual strides is none that everybody reckoned with. */
const UNUSUAL = 1.5;

/**
 * A gap, that touches (from, to), in which the signal may have gone and come back: it cannot be taken as monotone across it,
 * and a timer may have begun anew. How long its last value may be shown says nothing about that.
 */
export const breachWithin = (track: Track, from: number, to: number): Gap | undefined =>
  gapLonger(track, from, to, Math.min(track.def.agedAfter, Math.max(SHORTEST_RETURN, UNUSUAL * track.usual)));

/** The signal could have been in `state` at some time of [from, to]; true also where nothing is known. */
export const couldHaveBeen = (track: Track, state: number, from: number, to: number): boolean => {
  for (let index = track.runs.length - 1; index >= 0; index -= 1) {
    const run = track.runs[index];
    if (run === undefined) break;
    const end = track.runs[index + 1]?.from ?? Number.POSITIVE_INFINITY;
    if (run.after < to && end > from && run.state === state) return true;
    if (run.from <= from) return false;
  }
  return track.runs.length === 0;
};

/** The shortest time for which a finger presses a button. Common practice, no source. */
const SHORTEST_PRESS = 0.25 * SECOND;

/** A press may have come and gone between two of the last readings: a press a little earlier may have its effect now. */
export const mayHideAPress = ({ stride }: Track): boolean =>
  Math.max(stride.now, stride.before) > SHORTEST_PRESS;
