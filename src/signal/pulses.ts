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

const MOST = 256;

/**
 * Speed from the difference of two counts, modulo the roll-over. n counts between two instants mean more than n − 1
 * and fewer than n + 1 pulse distances: a step of 60 / (targets × gate) rpm (frequency counting).
 */
export const speedFromCount = (
  def: SignalDef,
  decoding: Decoding & { as: 'pulse-count' },
  memory: PulseMemory,
  words: readonly number[],
  earliest: number,
  latest: number,
): Decoded => {
  const count = numberIn(words, decoding.type, decoding.order);
  if (count === undefined) return { absent: 'implausible' };
  memory.counts = [...memory.counts, { earliest, latest, count }].slice(-MOST);
  const start = memory.counts.findLast((one) => earliest - one.latest >= decoding.gate);
  if (start === undefined) return { absent: 'not-polled' };
  const pulses = (((count - start.count) % decoding.rollover) + decoding.rollover) % decoding.rollover;
  const shortest = (earliest - start.latest) / SECOND;
  const longest = (latest - start.earliest) / SECOND;
  if (shortest <= 0) return { absent: 'not-polled' };
  const low = (Math.max(0, pulses - 1) / longest) * decoding.unitsPerPulsePerSecond;
  const high = ((pulses + 1) / shortest) * decoding.unitsPerPulsePerSecond;
  return plausibly(def, widened(def, { low, high }));
};

/** Speed from the time between two pulses: one tick of doubt each way. 0 and all ones mean that no pulse came. */
export const speedFromPeriod = (
  def: SignalDef,
  decoding: Decoding & { as: 'pulse-period' },
  words: readonly number[],
): Decoded => {
  const raw = numberIn(words, decoding.type, decoding.order);
  if (raw === undefined) return { absent: 'implausible' };
  const largest = decoding.type === 'uint16' ? 0xffff : 0xffff_ffff;
  if (raw === 0 || raw === largest) return plausibly(def, { low: 0, high: 0 });
  const tick = decoding.tick / SECOND;
  const low = decoding.unitsPerPulsePerSecond / ((raw + 1) * tick);
  const high = raw > 1 ? decoding.unitsPerPulsePerSecond / ((raw - 1) * tick) : Number.POSITIVE_INFINITY;
  return plausibly(def, widened(def, { low, high }));
};

const widened = (def: SignalDef, value: Interval): Interval => ({
  low: value.low - def.accuracy,
  high: value.high + def.accuracy,
});
