import { type Absence, type Interval, lessThan } from '../measure/index.ts';
import { throughCurve } from './curve.ts';
import { textIn } from './text.ts';
import { textCode } from './text-code.ts';
import type { BitField, Conversion, Decoding, NumberType, SignalDef } from './types.ts';
import { numberIn } from './words.ts';

/** A value with its bounds, or why there is none. */
export type Decoded = { readonly value: Interval } | { readonly absent: Absence };

export const absent = (why: Absence): Decoded => ({ absent: why });

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

/** A text as a value: a code of it. One without a character says nothing. */
const textDecoded = (text: string | undefined): Decoded => {
  if (text === undefined || text === '') return absent('implausible');
  const code = textCode(text);
  return { value: { low: code, high: code } };
};

const twoTo = (power: number): number => {
  let product = 1;
  for (let times = 0; times < power; times += 1) product *= 2;
  return product;
};

/** Neighbouring bits as a number; of a negative one those of its two's complement. Only whole numbers have bits. */
const fieldOf = (raw: number, { low, count }: BitField): number => {
  if (!Number.isSafeInteger(raw)) return Number.NaN;
  const size = twoTo(count);
  const above = Math.floor(raw / twoTo(low));
  return above - Math.floor(above / size) * size;
};

/** A code such as 9999.9 is meant as the single float nearest to it. */
export const isFault = (faults: readonly number[] | undefined, raw: number): boolean =>
  faults?.some((fault) => fault === raw || (!Number.isSafeInteger(fault) && Math.fround(fault) === raw)) ===
  true;

/** Half a step and the accuracy, as far as they are meant behind the curve. */
const behindCurve = (def: SignalDef, through: Interval, step: number, error: number): Interval => {
  const half = (step > 0 ? 0 : def.resolution / 2) + (error > 0 ? 0 : def.accuracy);
  return { low: through.low - half, high: through.high + half };
};

/** A raw number to a measured value or a state. */
const converted = (def: SignalDef, conversion: Conversion, number: number, inverted: boolean): Decoded => {
  const raw = conversion.field === undefined ? number : fieldOf(number, conversion.field);
  if (isFault(conversion.faults, raw)) return absent('sensor-fault');
  if (!Number.isFinite(raw)) return absent('implausible');
  const value = raw * conversion.scale + conversion.offset;
  if (def.states.length > 0) return stateOf(def, value, inverted);
  const { curve } = conversion;
  if (curve === undefined) return plausibly(def, boundsOf(def, value));
  const through = throughCurve(curve, value);
  if (typeof through === 'string') return absent(through);
  return plausibly(def, behindCurve(def, through, curve.step, curve.error));
};

/** Whole numbers that a double cannot tell apart: no device counts so far, and a wrong byte order mostly does. */
const isBeyondDoubles = (type: NumberType, raw: number): boolean =>
  (type === 'uint64' || type === 'int64') && !Number.isSafeInteger(raw);

/** The smallest normal single float, 2^-126 (IEEE 754). */
const LEAST_NORMAL = 1.1754943508222875e-38;

/** Below the normal floats nothing is measured; the words of a round value in the wrong order lie there. */
const isSubnormal = (type: NumberType, raw: number): boolean =>
  (type === 'float32' || type === 'float64') && raw !== 0 && Math.abs(raw) < LEAST_NORMAL;

const numberDecoded = (
  def: SignalDef,
  decoding: Decoding & { as: 'number' },
  words: readonly number[],
  from: number,
): Decoded => {
  const raw = numberIn(words, decoding.type, decoding.order, from);
  if (raw === undefined) return absent('implausible');
  if (isBeyondDoubles(decoding.type, raw))
    return absent(isFault(decoding.faults, raw) ? 'sensor-fault' : 'implausible');
  if (isSubnormal(decoding.type, raw)) return absent('implausible');
  return converted(def, decoding, raw, decoding.inverted === true);
};

/**
 * Register words from index `from` on (or one bit as 0 or 1) to a value in the signal's unit. Never throws. Pulses need
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
  if (decoding.as === 'text') return textDecoded(textIn(words, decoding.registers, decoding.order, from));
  return decoding.as === 'number' ? numberDecoded(def, decoding, words, from) : absent('implausible');
};

/** A value that came as a number or a text already (OPC UA). Never throws. */
export const decodeValue = (def: SignalDef, raw: number | null, text?: string): Decoded => {
  const { decoding } = def;
  if (decoding.as === 'text') return textDecoded(text);
  if (raw === null || !Number.isFinite(raw)) return absent('implausible');
  if (decoding.as === 'bit') return stateOf(def, raw, decoding.inverted);
  return decoding.as === 'value' ? converted(def, decoding, raw, decoding.inverted) : absent('implausible');
};
