import { FLAGS } from '../measure/index.ts';

/** What an OPC UA status code (Part 4, 7.39.1) means for evidence. */
export interface Quality {
  readonly severity: 'good' | 'uncertain' | 'bad';
  /** Bits of FLAGS. */
  readonly flags: number;
}

/**
 * Codes that say the value is somebody's, not the sensor's: GoodLocalOverride, UncertainSubstituteValue,
 * UncertainTransducerInManual, UncertainSimulatedValue. Source: UA-Nodeset, Schema/StatusCode.csv.
 */
const FORCED = new Set([0x0096_0000, 0x4091_0000, 0x4208_0000, 0x4209_0000]);

/** InfoType DataValue (bit 10) with Overflow (bit 7): values were lost before this one. */
const OVERFLOW = 0x0480;

/** Nothing in particular: what nearly all codes say. */
export const UNSAID: Quality = { severity: 'good', flags: 0 };

/** Severity is bits 31 and 30: 00 good, 01 uncertain, else bad. "Bad results shall never be used." */
export const statusQuality = (code: number): Quality => {
  if (code === 0) return UNSAID;
  const bits = code >>> 0;
  const top = bits >>> 30;
  const forced = FORCED.has((bits & 0xffff_0000) >>> 0) ? FLAGS.forced : 0;
  const overflow = (bits & OVERFLOW) === OVERFLOW ? FLAGS.overflow : 0;
  if (top >= 2) return { severity: 'bad', flags: 0 };
  if (top === 1) return { severity: 'uncertain', flags: forced | overflow | FLAGS.uncertain };
  return { severity: 'good', flags: forced | overflow };
};
