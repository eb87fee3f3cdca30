import type { Instant, Micros } from './instant.ts';
import type { Interval } from './interval.ts';

/**
 * How far another clock is ahead of ours, and the delay of asking it, from the four times of one exchange: asked by our
 * clock, asked and answered by theirs, answered by ours (RFC 5905, section 8). Undefined where the delay comes out
 * negative: no exchange can have had these times.
 */
export const exchangeOf = (
  t1: number,
  t2: number,
  t3: number,
  t4: number,
): { readonly offset: number; readonly delay: number } | undefined => {
  const delay = t4 - t1 - (t3 - t2);
  return delay < 0 ? undefined : { offset: (t2 - t1 + (t3 - t4)) / 2, delay };
};

/**
 * The most by which two clocks part while time passes: each within 100 ppm of its own (a plain crystal), and slewed by
 * its own discipline at 500 ppm at most. Both from memory. RFC 5905 reckons 15 ppm for clocks under its care; a
 * controller's is under nobody's.
 */
export const DRIFT = 1_200e-6;

/** Exchanges that are remembered: as many as the clock filter of RFC 5905 has stages (section 10; from memory). */
const STAGES = 8;

/** Some clocks count in ticks of 10 to 16 ms and show digits below that. Common practice, no source. */
const TICK: Micros = 20_000;

/** What a clock can be seen to count in. The finest is what its time is taken to be good for at best. */
const FINEST: Micros = 1_000;
const GRAINS: readonly Micros[] = [1_000_000, 100_000, 10_000, FINEST];

/** The coarsest step that all times seen so far are whole in: `before` of those before, and this one. */
export const grainOf = (before: Micros, time: number): Micros =>
  before <= FINEST ? FINEST : (GRAINS.find((grain) => grain <= before && time % grain === 0) ?? FINEST);

export const COARSEST: Micros = 1_000_000;

interface Sample {
  /** Of theirs − ours, as of `at`; the high end without what their clock does not show. */
  readonly low: number;
  readonly high: number;
  readonly at: Instant;
}

/** What is known of another clock; changed in place by `takeExchange`. */
export interface OffsetTrack {
  samples: readonly Sample[];
  /** Step in which their clock is seen to count. */
  grain: Micros;
  /** What it is taken to count in beyond that, once it was seen to; else 0. */
  blur: Micros;
  /** Exchanges taken since `since`. */
  count: number;
  since: Instant | undefined;
  /** What was asked last: all items of an answer ask the same. */
  last: (Interval & { readonly at: number }) | undefined;
}

export const newOffset = (): OffsetTrack => ({
  samples: [],
  grain: COARSEST,
  blur: 0,
  count: 0,
  since: undefined,
  last: undefined,
});

/** Their clock may stand anywhere in this behind the time that it shows. */
const unshown = (track: OffsetTrack): Micros => track.grain + track.blur;

/**
 * Theirs − ours at an instant of our clock; undefined before the first exchange. Nothing is assumed of how the delay was
 * shared between the ways: an exchange bounds the offset by its whole length. Those of older exchanges widen by what the
 * clocks can have drifted apart since.
 */
export const offsetAt = (track: OffsetTrack, at: number): Interval | undefined => {
  if (track.samples.length === 0) return undefined;
  if (track.last?.at === at) return track.last;
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  for (const sample of track.samples) {
    const drift = DRIFT * Math.abs(at - sample.at);
    low = Math.max(low, sample.low - drift);
    high = Math.min(high, sample.high + unshown(track) + drift);
  }
  track.last = { at, low, high };
  return track.last;
};

/** What an exchange has told: nothing that can be, something, or that their clock was set, by so much. */
export type Told = 'impossible' | 'kept' | { readonly stepped: Micros };

const middle = ({ low, high }: Interval): number => (low + high) / 2;

const begin = (track: OffsetTrack, sample: Sample): void => {
  track.samples = [sample];
  track.count = 1;
  track.since = sample.at;
};

/** `alone`: those before were joined under another step of their clock. */
const join = (track: OffsetTrack, sample: Sample, alone: boolean): void => {
  track.samples = alone ? [sample] : [...track.samples.slice(1 - STAGES), sample];
  track.count += 1;
};

/**
 * One exchange: asked, what they showed, answered. Where it cannot be joined with those before, their clock was set, or
 * counts more coarsely than it shows: only the newest is believed then. A step that is smaller than the doubt is not seen.
 */
export const takeExchange = (
  track: OffsetTrack,
  {
    sent,
    received,
    theirs,
  }: { readonly sent: Instant; readonly received: Instant; readonly theirs: Instant },
): Told => {
  const exchange = exchangeOf(sent, theirs, theirs, received);
  if (exchange === undefined) return 'impossible';
  const { offset, delay } = exchange;
  const half = delay / 2 + DRIFT * delay;
  const sample = { low: offset - half, high: offset + half, at: received };
  const grain = grainOf(track.grain, theirs);
  const finer = grain < track.grain;
  track.grain = grain;
  track.last = undefined;
  const before = offsetAt(track, received);
  track.last = undefined;
  const gap = before && Math.max(sample.low - before.high, before.low - sample.high - unshown(track));
  if (before === undefined || gap === undefined) begin(track, sample);
  else if (gap <= 0) join(track, sample, finer);
  else if (track.blur === 0 && gap <= TICK) {
    // How coarsely it counts is not known from one miss.
    track.blur = TICK;
    join(track, sample, true);
  } else {
    begin(track, sample);
    return { stepped: Math.round(middle(sample) - middle(before)) };
  }
  return 'kept';
};

/**
 * When, by our clock, theirs showed `shown`, told at `now`; `grain`: the step in which such times are seen to count.
 * Undefined before the first exchange.
 */
export const whenShown = (
  track: OffsetTrack,
  shown: number,
  now: number,
  grain: Micros,
): Interval | undefined => {
  const lead = offsetAt(track, now);
  if (lead === undefined) return undefined;
  const behind = Math.max(grain, track.grain) + track.blur;
  // Between that instant and now the clocks have drifted apart; how long that is, is known but for the same drift.
  const away = Math.max(Math.abs(now - shown + lead.high), Math.abs(now - shown - behind + lead.low));
  const drift = DRIFT * (1 + 2 * DRIFT) * away;
  return { low: shown - lead.high - drift, high: shown + behind - lead.low + drift };
};

/** The same by a known offset. */
export const shownWithin = (offset: Interval, shown: number): Interval => ({
  low: shown - offset.high,
  high: shown - offset.low,
});

export const hullOf = (a: Interval, b: Interval): Interval => ({
  low: Math.min(a.low, b.low),
  high: Math.max(a.high, b.high),
});
