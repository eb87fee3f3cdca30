import { type Absence, absenceAt, FLAGS, type Interval, type Readings, SECOND } from '../measure/index.ts';
import type { SignalDef } from '../signal/index.ts';

/** One good reading. Microseconds; value bounds in the unit of the signal. */
export interface Row {
  readonly earliest: number;
  readonly latest: number;
  readonly low: number;
  readonly high: number;
  readonly response: number;
  readonly flags: number;
}

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
  rows: Row[];
  runs: Run[];
  gaps: Gap[];
  last?: Row;
  /** When the newest reading was taken, value or not. */
  newsEarliest: number;
  newsLatest: number;
  /** Longest times between two readings, in which a state may have come and gone unseen: see `lookAway`. */
  stride: Stride;
  /** Usual time between two readings, from the earliest instant of one to the latest of the next; what is lost counts little. */
  usual: number;
  /** Set while the newest reading is an absence. */
  absent?: Gap;
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
export const valueNow = (track: Track | undefined): Row | undefined =>
  track?.absent === undefined ? track?.last : undefined;

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

/** `reach`: how far back somebody asks for this signal, at most. */
export const newTrack = (def: SignalDef, reach = 0): Track => ({
  def,
  horizon: Math.max(HORIZON, reach + SPARE),
  discrete: def.states.length > 0,
  rows: [],
  runs: [],
  gaps: [],
  newsEarliest: Number.NEGATIVE_INFINITY,
  newsLatest: Number.NEGATIVE_INFINITY,
  stride: { now: 0, before: 0, count: 0 },
  usual: 0,
  forcedAt: Number.NEGATIVE_INFINITY,
  doubtfulAt: Number.NEGATIVE_INFINITY,
});

const forget = (track: Track, now: number): void => {
  if (track.rows.length > MOST_ROWS * 2) track.rows = track.rows.slice(-MOST_ROWS);
  else if (track.rows.length > 256 && (track.rows[128]?.latest ?? now) < now - track.horizon) {
    const keep = track.rows.findIndex((row) => row.latest >= now - track.horizon);
    track.rows = keep < 0 ? track.rows.slice(-1) : track.rows.slice(Math.max(0, keep - 1));
  }
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
const mayBeOlder = (track: Track, row: Row): boolean => {
  const [before, now] = track.runs.slice(-2);
  return (
    before !== undefined &&
    now !== undefined &&
    row.low === row.high &&
    row.low === before.state &&
    row.earliest <= now.from
  );
};

const takeState = (track: Track, row: Row): void => {
  const run = track.runs.at(-1);
  if (run !== undefined && run.state === row.low && row.low === row.high) {
    run.lastEarliest = row.earliest;
    run.lastLatest = row.latest;
    return;
  }
  if (mayBeOlder(track, row)) return;
  track.runs.push({
    state: row.low === row.high ? row.low : Number.NaN,
    after: track.last?.earliest ?? Number.NEGATIVE_INFINITY,
    afterResponse: track.last?.response ?? 0,
    from: row.latest,
    fromResponse: row.response,
    firstEarliest: row.earliest,
    lastEarliest: row.earliest,
    lastLatest: row.latest,
  });
};

/** Nobody said that there was no value, but none came for longer than the signal may go without: that is a gap too. */
const noteSilence = (track: Track, earliest: number): void => {
  const { last } = track;
  if (last === undefined || earliest - last.latest <= track.def.agedAfter) return;
  const at = { after: last.earliest, seen: earliest, lostAfter: last.earliest, lostSeen: earliest };
  track.gaps.push({ from: last.latest, to: earliest, why: 'aged', ...at, toEarliest: earliest });
};

const rowAt = (columns: Readings, index: number): Row => ({
  earliest: columns.earliest[index] ?? 0,
  latest: columns.latest[index] ?? 0,
  low: columns.low[index] ?? 0,
  high: columns.high[index] ?? 0,
  response: columns.response[index] ?? 0,
  flags: columns.flags[index] ?? 0,
});

/** Takes row `index` of the columns into the track. A value ends a gap at its earliest instant. */
export const take = (track: Track, columns: Readings, index: number): void => {
  const earliest = columns.earliest[index] ?? 0;
  const latest = columns.latest[index] ?? 0;
  const why = absenceAt(columns.why[index] ?? 0);
  track.newsEarliest = earliest;
  track.newsLatest = latest;
  if (why !== undefined) {
    takeAbsence(track, why, earliest, latest);
    forget(track, latest);
    return;
  }
  if (track.absent !== undefined) {
    track.absent.to = earliest;
    delete track.absent;
  } else noteSilence(track, earliest);
  const row = rowAt(columns, index);
  if (track.last !== undefined) {
    lookAway(track.stride, latest - track.last.earliest);
    track.usual = follow(track.usual, latest - track.last.earliest);
  }
  if ((row.flags & FLAGS.forced) !== 0) track.forcedAt = latest;
  if ((row.flags & DOUBTFUL) !== 0) track.doubtfulAt = latest;
  if (track.discrete) takeState(track, row);
  else track.rows.push(row);
  track.last = row;
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

/** The hull of what the signal can have been during [from, to], a signal being monotone between two readings. */
export interface Swept extends Interval {
  /** The history does not reach back to `from`. */
  readonly openStart: boolean;
}

/** First index whose row satisfies `test`, rows being ordered so that the answer is false … false, true … true. */
export const firstIndex = (rows: readonly Row[], test: (row: Row) => boolean): number => {
  let low = 0;
  let high = rows.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const row = rows[middle];
    if (row !== undefined && test(row)) high = middle;
    else low = middle + 1;
  }
  return low;
};

/** Undefined while the reading that would close the span has not come. */
export const swept = (rows: readonly Row[], from: number, to: number): Swept | undefined => {
  const after = firstIndex(rows, (row) => row.latest > from);
  const end = firstIndex(rows, (row) => row.earliest >= to);
  if (end >= rows.length) return undefined;
  const start = Math.max(0, Math.min(after - 1, end));
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let index = start; index <= end; index += 1) {
    const row = rows[index];
    if (row === undefined) continue;
    low = Math.min(low, row.low);
    high = Math.max(high, row.high);
  }
  return { low, high, openStart: after === 0 };
};

/** The same between two answers of a scan-consistent source: cause and effect share their instants. */
export const sweptBetween = (rows: readonly Row[], first: number, last: number): Interval | undefined => {
  if (first === 0 || last === 0) return undefined;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let seen = 0;
  for (let index = rows.length - 1; index >= 0; index -= 1) {
    const row = rows[index];
    if (row === undefined || row.response > last) continue;
    if (row.response < first) break;
    if (row.response === first || row.response === last) seen += 1;
    low = Math.min(low, row.low);
    high = Math.max(high, row.high);
  }
  return seen >= 2 ? { low, high } : undefined;
};

/** The shortest time for which a finger presses a button. Common practice, no source. */
const SHORTEST_PRESS = 0.25 * SECOND;

/** A press may have come and gone between two of the last readings: a press a little earlier may have its effect now. */
export const mayHideAPress = ({ stride }: Track): boolean =>
  Math.max(stride.now, stride.before) > SHORTEST_PRESS;
