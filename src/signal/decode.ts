import { type Absence, type Interval, lessThan } from '../measure/index.ts';
import type { SignalDef } from './types.ts';
import { numberIn } from './words.ts';

/** A value with its bounds, or why there is none. */
export type Decoded = { readonly value: Interval } | { readonly absent: Absence };

const absent = (why: Absence): Decoded => ({ absent: why });

/** Half a step of resolution and the declared accuracy on each side of a value in the signal's unit. */
export const boundsOf = (def: SignalDef, value: number): Interval => {
  const half = def.states.length > 0 ? 0 : def.resolution / 2 + def.accuracy;
  return { low: value - half, high: value + half };
};

/** A value that lies outside its declared range wholly is a fault, never a trip. */
export const plausibly = (def: SignalDef, value: Interval): Decoded => {
  const range = def.plausible;
  if (!Number.isFinite(value.low) || !Number.isFinite(value.high)) return absent('implausible');
  if (range && (lessThan(value.high, range.low) || lessThan(range.high, value.low)))
    return absent('implausible');
  return { value };
};

const stateOf = (def: SignalDef, raw: number, inverted: boolean): Decoded => {
  const code = inverted ? def.states.length - 1 - raw : raw;
  if (!Number.isInteger(code) || code < 0 || code >= Math.max(2, def.states.length))
    return absent('implausible');
  return { value: { low: code, high: code } };
};

/**
 * Register words from index `from` on (or one bit as 0 or 1) to a value in the signal's unit. Never throws. Pulse counts and periods need
 * what came before and are decoded by `createDecoder`.
 */
export const decodeWords = (def: SignalDef, words: readonly number[], from = 0): Decoded => {
  const { decoding } = def;
  const first = words[from];
  if (first === undefined) return absent('implausible');
  if (decoding.as === 'bit') {
    const bit = decoding.bit === undefined ? first & 1 : (first >> decoding.bit) & 1;
    return stateOf(def, bit, decoding.inverted);
  }
  if (decoding.as !== 'number') return absent('implausible');
  const raw = numberIn(words, decoding.type, decoding.order, from);
  if (raw === undefined || !Number.isFinite(raw)) return absent('implausible');
  if (decoding.faults.includes(raw)) return absent('sensor-fault');
  const value = raw * decoding.scale + decoding.offset;
  if (def.states.length > 0) return stateOf(def, value, false);
  return plausibly(def, boundsOf(def, value));
};

/** A value that came as a number already (OPC UA). */
export const decodeValue = (def: SignalDef, raw: number): Decoded => {
  const { decoding } = def;
  if (!Number.isFinite(raw)) return absent('implausible');
  if (decoding.as === 'bit') return stateOf(def, raw, decoding.inverted);
  if (decoding.as !== 'value') return absent('implausible');
  if (def.states.length > 0) return stateOf(def, raw, decoding.inverted);
  return plausibly(def, boundsOf(def, raw * decoding.scale + decoding.offset));
};
