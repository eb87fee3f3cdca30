import { SECOND } from '../measure/index.ts';
import type { Decoding, SignalDef } from '../signal/index.ts';
import { reachBack, type Sight } from './plan-sight.ts';

/** How sharply a value that stands still is known, in the unit of its signal. */
export interface Sharpness {
  /** Width of one reading. */
  readonly reading: number;
  /** A bound may lie so far from the truth. */
  readonly reach: number;
  /** Width of the hull of readings of one value: it may fall on either side of a step. */
  readonly hull: number;
}

/**
 * A register: a value is rounded to its step, half a step goes on each side; it may wait a step at either end. Behind a
 * sensor's curve the signal's resolution is the widest that a step becomes in its plausible range.
 */
const registerSharpness = (signal: SignalDef, waits: boolean): Sharpness => {
  const { resolution } = signal;
  const reading = resolution + 2 * signal.accuracy;
  const more = waits ? resolution : 0;
  return { reading, reach: reading + more, hull: reading + resolution + 2 * more };
};

/**
 * n counts mean more than n − 1 and fewer than n + 1 pulse distances, and the time between two counts is known to
 * the age of each: a reading is two counts wide, and the count itself may be one off either way.
 */
const countSharpness = (
  signal: SignalDef,
  decoding: Decoding & { as: 'pulse-count' },
  sight: Sight,
  value: number,
): Sharpness => {
  const span = reachBack(decoding, sight.every, sight.age, undefined);
  const shortest = span - sight.age - sight.late;
  const longest = span + sight.age + sight.late;
  const unit = decoding.unitsPerPulsePerSecond;
  const rate = value / unit;
  const wide = 2 * signal.accuracy;
  const lowest = (unit * Math.max(0, rate * shortest - 2)) / longest;
  const highest = (unit * (rate * longest + 2)) / shortest;
  return {
    reading: unit * ((rate * span + 1) / shortest - Math.max(0, rate * span - 1) / longest) + wide,
    reach: Math.max(value - lowest, highest - value) + wide,
    hull: highest - lowest + wide,
  };
};

/** Counted by the controller in whole gates: one count each way, and the count itself may be one off. */
const gateSharpness = (signal: SignalDef, decoding: Decoding & { as: 'pulse-gate' }): Sharpness => {
  const one = (decoding.unitsPerPulsePerSecond * SECOND) / decoding.gate;
  const wide = 2 * signal.accuracy;
  return { reading: 2 * one + wide, reach: 2 * one + wide, hull: 4 * one + wide };
};

/** One tick each way around a period that is itself cut to whole ticks. */
const periodSharpness = (
  signal: SignalDef,
  decoding: Decoding & { as: 'pulse-period' },
  value: number,
): Sharpness => {
  const tick = decoding.tick / SECOND;
  const unit = decoding.unitsPerPulsePerSecond;
  const period = unit / value;
  const at = (ticks: number): number =>
    period + ticks * tick > 0 ? unit / (period + ticks * tick) : Number.POSITIVE_INFINITY;
  const wide = 2 * signal.accuracy;
  return {
    reading: at(-1) - at(1) + wide,
    reach: at(-2) - value + wide,
    hull: at(-2) - at(1) + wide,
  };
};

/** Of a signal that is read itself; undefined where pulses need a speed that is not known beforehand. */
export const sharpnessOf = (
  signal: SignalDef,
  sight: Sight | undefined,
  value: number | undefined,
): Sharpness | undefined => {
  const { decoding } = signal;
  if (decoding.as === 'pulse-count') {
    return sight === undefined || value === undefined
      ? undefined
      : countSharpness(signal, decoding, sight, value);
  }
  if (decoding.as === 'pulse-gate') return gateSharpness(signal, decoding);
  if (decoding.as === 'pulse-period') {
    return value === undefined || value <= 0 ? undefined : periodSharpness(signal, decoding, value);
  }
  return registerSharpness(signal, sight?.changesOnly === true);
};
