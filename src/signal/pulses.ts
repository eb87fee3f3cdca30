import type { Absence, Interval } from '../measure/index.ts';
import { SECOND } from '../measure/index.ts';
import { type Decoded, isFault, plausibly } from './decode.ts';
import type { CountType, Decoding, Pulses, SignalDef } from './types.ts';
import { numberIn } from './words.ts';

/** One answer that carried a count: when it was taken, what it read, and the pulses since the first one kept. */
interface Counted {
  readonly earliest: number;
  readonly latest: number;
  readonly count: number;
  readonly total: number;
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

type Count = Decoding & { as: 'pulse-count' };

/** No switch on a shaft gives more pulses a second (common practice, no source). */
const FASTEST = 10_000;

const mostPulses = (perSecond: number, time: number): number => (perSecond * time) / SECOND + 2;

/**
 * Pulses since the last answer, modulo the roll-over. `round`: at the highest plausible speed it may have gone round
 * unseen. `back`: more than that speed gives, or, where none is declared, than half a round or any switch can: the counter
 * began anew.
 */
const pulsesSince = (
  def: SignalDef,
  { rollover, unitsPerPulsePerSecond }: Count,
  last: Counted,
  count: number,
  latest: number,
): number | 'round' | 'back' => {
  const pulses = (((count - last.count) % rollover) + rollover) % rollover;
  const time = latest - last.earliest;
  if (def.plausible === undefined)
    return pulses > Math.min(rollover / 2, mostPulses(FASTEST, time)) ? 'back' : pulses;
  const most = mostPulses(def.plausible.high / unitsPerPulsePerSecond, time);
  if (most >= rollover) return 'round';
  return pulses > most ? 'back' : pulses;
};

const countIn = (
  words: readonly number[],
  { type, order, faults }: Pulses,
): number | 'sensor-fault' | undefined => {
  const count = numberIn(words, type, order);
  return count !== undefined && isFault(faults, count) ? 'sensor-fault' : count;
};

/** The shortest gate that is full, from a count to one just taken; more than n − 1 and fewer than n + 1 distances. */
const meanSpeed = (decoding: Count, start: Counted, end: Counted): Interval => {
  const pulses = end.total - start.total;
  const shortest = (end.earliest - start.latest) / SECOND;
  const longest = (end.latest - start.earliest) / SECOND;
  return {
    low: (Math.max(0, pulses - 1) / longest) * decoding.unitsPerPulsePerSecond,
    high: ((pulses + 1) / shortest) * decoding.unitsPerPulsePerSecond,
  };
};

/**
 * Speed from the difference of two counts: a step of 60 / (targets × gate) rpm (frequency counting). What passed from
 * answer to answer is added up, so that the counter may go round as often as it likes within a gate. It is a mean: the
 * machine had that speed at some time since the first count (mean value theorem), not necessarily at the last.
 */
export const speedFromCount = (
  def: SignalDef,
  decoding: Count,
  memory: PulseMemory,
  words: readonly number[],
  at: { readonly earliest: number; readonly latest: number; readonly poll: number },
): Speed => {
  const { earliest, latest } = at;
  const none = (why: Absence): Speed => ({ decoded: { absent: why }, earliest });
  const count = countIn(words, decoding);
  if (count === 'sensor-fault') return none('sensor-fault');
  if (count === undefined || count >= decoding.rollover) return none('implausible');
  const oldest = earliest - decoding.gate - Math.max(decoding.gate, MISSABLE * at.poll);
  memory.counts = memory.counts.filter((one) => one.latest >= oldest);
  const last = memory.counts.at(-1);
  const pulses = last === undefined ? 'round' : pulsesSince(def, decoding, last, count, latest);
  if (last === undefined || typeof pulses === 'string') {
    memory.counts = [{ earliest, latest, count, total: 0 }];
    return none(pulses === 'back' ? 'implausible' : 'not-polled');
  }
  const now = { earliest, latest, count, total: last.total + pulses };
  const start = memory.counts.findLast((one) => earliest - one.latest >= decoding.gate);
  memory.counts.push(now);
  if (start === undefined || earliest <= start.latest) return none('not-polled');
  return { decoded: plausibly(def, widened(def, meanSpeed(decoding, start, now))), earliest: start.earliest };
};

/**
 * Speed from what the controller has counted in a gate of its own: n pulses are more than n − 1 and fewer than n + 1
 * distances. The count stands until the next gate is full, so it began up to two gates ago.
 */
export const speedFromGate = (
  def: SignalDef,
  decoding: Decoding & { as: 'pulse-gate' },
  words: readonly number[],
  earliest: number,
): Speed => {
  const count = countIn(words, decoding);
  const since = earliest - 2 * decoding.gate;
  if (typeof count !== 'number') return { decoded: { absent: count ?? 'implausible' }, earliest: since };
  const one = (decoding.unitsPerPulsePerSecond * SECOND) / decoding.gate;
  const speed = { low: Math.max(0, count - 1) * one, high: (count + 1) * one };
  return { decoded: plausibly(def, widened(def, speed)), earliest: since };
};

/** All digits or bits set: no pulse came. */
const LARGEST: Readonly<Record<CountType, number>> = {
  uint16: 0xffff,
  uint32: 0xffff_ffff,
  bcd16: 9_999,
  bcd32: 99_999_999,
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
  const raw = countIn(words, decoding);
  if (typeof raw !== 'number') return { decoded: { absent: raw ?? 'implausible' }, earliest };
  if (raw === 0 || raw === LARGEST[decoding.type])
    return { decoded: plausibly(def, { low: 0, high: 0 }), earliest };
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
