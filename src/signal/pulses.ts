import type { Interval } from '../measure/index.ts';
import { SECOND } from '../measure/index.ts';
import { type Decoded, plausibly } from './decode.ts';
import type { Decoding, SignalDef } from './types.ts';
import { numberIn } from './words.ts';

/** One answer that carried a count: when it was taken, and what it read. */
interface Counted {
  readonly earliest: number;
  readonly latest: number;
  readonly count: number;
}

/** Counts of the last while; enough to span the gate. */
export interface PulseMemory {
  counts: Counted[];
}

/** A speed, and since when it may have been so. */
export interface Speed {
  readonly decoded: Decoded;
  readonly earliest: number;
}

/** Polls that may be missing before counts are no longer compared: beyond, the counter may have gone round unseen. */
const MISSABLE = 4;

/**
 * Speed from the difference of two counts, modulo the roll-over. n counts between two instants mean more than n − 1
 * and fewer than n + 1 pulse distances: a step of 60 / (targets × gate) rpm (frequency counting). It is a mean: the
 * machine had that speed at some time since the first count (mean value theorem), not necessarily at the last.
 */
export const speedFromCount = (
  def: SignalDef,
  decoding: Decoding & { as: 'pulse-count' },
  memory: PulseMemory,
  words: readonly number[],
  at: { readonly earliest: number; readonly latest: number; readonly poll: number },
): Speed => {
  const { earliest, latest } = at;
  const none = (why: 'implausible' | 'not-polled'): Speed => ({ decoded: { absent: why }, earliest });
  const count = numberIn(words, decoding.type, decoding.order);
  if (count === undefined) return none('implausible');
  const oldest = earliest - decoding.gate - Math.max(decoding.gate, MISSABLE * at.poll);
  memory.counts = memory.counts.filter((one) => one.latest >= oldest);
  const start = memory.counts.findLast((one) => earliest - one.latest >= decoding.gate);
  memory.counts.push({ earliest, latest, count });
  const shortest = start === undefined ? 0 : (earliest - start.latest) / SECOND;
  if (start === undefined || shortest <= 0) return none('not-polled');
  const pulses = (((count - start.count) % decoding.rollover) + decoding.rollover) % decoding.rollover;
  const longest = (latest - start.earliest) / SECOND;
  const low = (Math.max(0, pulses - 1) / longest) * decoding.unitsPerPulsePerSecond;
  const high = ((pulses + 1) / shortest) * decoding.unitsPerPulsePerSecond;
  return { decoded: plausibly(def, widened(def, { low, high })), earliest: start.earliest };
};

/**
 * Speed from the time between two pulses: one tick of doubt each way. 0 and all ones mean that no pulse came. The speed
 * was so within that period, and the next pulse has been awaited since, for about as long.
 */
export const speedFromPeriod = (
  def: SignalDef,
  decoding: Decoding & { as: 'pulse-period' },
  words: readonly number[],
  earliest: number,
): Speed => {
  const raw = numberIn(words, decoding.type, decoding.order);
  if (raw === undefined) return { decoded: { absent: 'implausible' }, earliest };
  const largest = decoding.type === 'uint16' ? 0xffff : 0xffff_ffff;
  if (raw === 0 || raw === largest) return { decoded: plausibly(def, { low: 0, high: 0 }), earliest };
  const tick = decoding.tick / SECOND;
  const low = decoding.unitsPerPulsePerSecond / ((raw + 1) * tick);
  const high = raw > 1 ? decoding.unitsPerPulsePerSecond / ((raw - 1) * tick) : Number.POSITIVE_INFINITY;
  const since = earliest - 2 * (raw + 1) * decoding.tick;
  return { decoded: plausibly(def, widened(def, { low, high })), earliest: since };
};

const widened = (def: SignalDef, value: Interval): Interval => ({
  low: value.low - def.accuracy,
  high: value.high + def.accuracy,
});
