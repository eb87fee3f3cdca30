import {
  COARSEST,
  grainOf,
  hullOf,
  type Instant,
  type Interval,
  type Micros,
  newOffset,
  type OffsetTrack,
  offsetAt,
  shownWithin,
  takeExchange,
  whenShown,
} from '../measure/index.ts';
import type { Answer, OpcUaSource } from './types.ts';

/** What an OPC UA server has granted, and what is known of its clock; changed in place by its answers. */
export interface ServerTime {
  readonly source: OpcUaSource;
  /** The larger of asked and granted. */
  publishing: Micros;
  /** By signal. */
  readonly sampling: (Micros | undefined)[];
  longestSampling: Micros;
  readonly offset: OffsetTrack;
  /** Step in which source times are seen to count. */
  grain: Micros;
  /** How often its clock was set, and by how much at last. */
  steps: number;
  stepped: Micros;
}

export const newServerTime = (source: OpcUaSource): ServerTime => ({
  source,
  publishing: source.publishing,
  sampling: [],
  longestSampling: source.sampling,
  offset: newOffset(),
  grain: COARSEST,
  steps: 0,
  stepped: 0,
});

/** What is granted may be less than was asked for, never more: a server that is quicker owes it to nobody. */
export const takeTerms = (time: ServerTime, answer: Answer & { kind: 'terms' }): void => {
  const { source } = time;
  time.publishing = Math.max(source.publishing, answer.publishing);
  time.sampling.length = 0;
  time.longestSampling = source.sampling;
  for (const { signal, sampling } of answer.items) {
    const longest = Math.max(source.sampling, sampling);
    time.sampling[signal] = longest;
    time.longestSampling = Math.max(time.longestSampling, longest);
  }
};

export const takeClock = (time: ServerTime, answer: Answer & { kind: 'clock' }): void => {
  const told = takeExchange(time.offset, answer);
  if (typeof told === 'string') return;
  time.steps += 1;
  time.stepped = told.stepped;
};

export const samplingOf = (time: ServerTime, signal: number): Micros =>
  time.sampling[signal] ?? time.source.sampling;

/** How long the server may take to tell what has been. */
export const lagOf = ({ source, publishing, longestSampling }: ServerTime): Micros =>
  2 * publishing + longestSampling + (source.clockBound ?? 0);

const declaredOf = ({ clockBound }: OpcUaSource): Interval | undefined =>
  clockBound === undefined ? undefined : { low: -clockBound, high: clockBound };

const width = ({ low, high }: Interval): number => high - low;

/** The clock is not where it was declared to be: certainly, or as far as a measurement as good as that can tell. */
const contradicts = (declared: Interval, measured: Interval): boolean => {
  if (measured.high < declared.low || declared.high < measured.low) return true;
  const inside = declared.low <= measured.low && measured.high <= declared.high;
  return !inside && width(measured) <= width(declared);
};

/** When a source time was. Undefined where nothing is known of the clock that it is of. */
export const whenStamped = (time: ServerTime, stamp: Instant, now: Instant): Interval | undefined => {
  const { source, offset } = time;
  time.grain = grainOf(time.grain, stamp);
  const declared = declaredOf(source);
  if (declared === undefined)
    return source.sourceClock === 'server' ? whenShown(offset, stamp, now, time.grain) : undefined;
  const stated = shownWithin(declared, stamp);
  const found = offsetAt(offset, now);
  if (found === undefined || !contradicts(declared, found)) return stated;
  const measured = whenShown(offset, stamp, now, time.grain);
  return measured === undefined ? stated : hullOf(stated, measured);
};

/** When the server spoke, by its own clock: as measured, before that as declared. */
export const whenSpoken = (time: ServerTime, spoken: Instant, now: Instant): Interval | undefined => {
  const declared = declaredOf(time.source);
  return (
    whenShown(time.offset, spoken, now, time.offset.grain) ?? (declared && shownWithin(declared, spoken))
  );
};

/** What is known of a source's clock. Microseconds. */
export interface ClockKnown {
  /** Theirs − ours, as of the last exchange. */
  readonly offset: Interval;
  /** Since when it has not been set, as far as was seen; exchanges since then. */
  readonly since: Instant;
  readonly samples: number;
  /** When it was asked last. */
  readonly last: Instant;
  readonly steps: number;
  /** By how much it was set last. */
  readonly stepped: Micros;
  readonly declaredBound?: Micros;
  /** It is not where it was declared to be. */
  readonly contradicts: boolean;
}

export const clockKnown = (time: ServerTime): ClockKnown | undefined => {
  const { source, offset, steps, stepped } = time;
  const at = offset.samples.at(-1)?.at;
  const measured = at && offsetAt(offset, at);
  if (at === undefined || measured === undefined || offset.since === undefined) return undefined;
  const declared = declaredOf(source);
  return {
    offset: measured,
    since: offset.since,
    samples: offset.count,
    last: at,
    steps,
    stepped,
    ...(source.clockBound !== undefined && { declaredBound: source.clockBound }),
    contradicts: declared !== undefined && contradicts(declared, measured),
  };
};
