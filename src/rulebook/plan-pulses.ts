import { convert, SECOND } from '../measure/index.ts';
import type { Decoding } from '../signal/index.ts';
import { middle, roomOf, type View } from './plan-view.ts';

/** What a speed from pulses can tell at its set point. Values in the unit of the signal, times in seconds. */
export interface PulseFigures {
  /** Pulses a second at the set point, and the time from one to the next. */
  readonly frequency: number;
  readonly distance: number;
  /** One count in the gate (60 / (targets × gate) rpm), or one tick of the period. */
  readonly step?: number;
  /** What would leave half of the room for a ramp: so many times the targets, this gate, or this tick. */
  readonly targets?: number;
  readonly gate?: number;
  readonly tick?: number;
  /** Controller cycle, where one is declared. */
  readonly scan?: number;
  /** Cycles of the controller between two pulses are 1 / `share`; from 0.5 pulses are missed. */
  readonly share?: number;
  /** Whole pulses in a cycle at some speed of the band: a program that looks once a cycle sees none move. */
  readonly beats?: number;
}

/** Units that one pulse a second is worth. */
const perPulseOf = (view: View): number | undefined => {
  const { decoding, quantity, unit } = view.cause;
  if ('unitsPerPulsePerSecond' in decoding) return decoding.unitsPerPulsePerSecond;
  return quantity === 'pulse-rate' ? convert(1, 'Hz', unit) : undefined;
};

const stepOf = (decoding: Decoding, value: number, frequency: number): number | undefined => {
  if (decoding.as === 'pulse-count' || decoding.as === 'pulse-gate')
    return (decoding.unitsPerPulsePerSecond * SECOND) / decoding.gate;
  return decoding.as === 'pulse-period' ? (value * frequency * decoding.tick) / SECOND : undefined;
};

/** Pulse counting: 2 counts, and the doubt of both ages, in a gate; solved for what may be changed. */
const remedies = (
  view: View,
  decoding: Decoding,
  value: number,
  frequency: number,
): Pick<PulseFigures, 'targets' | 'gate' | 'tick'> => {
  const { places, sharpness, cause, sight } = view;
  if (places === undefined || sharpness === undefined || sight === undefined) return {};
  const room = roomOf(places) / 2 - 2 * cause.accuracy;
  if (decoding.as !== 'pulse-count' && decoding.as !== 'pulse-gate') return {};
  if (room <= 0 || sharpness.reach <= room) return {};
  const unit = decoding.unitsPerPulsePerSecond;
  // The controller's own gate is not blurred by the age of what we read.
  const jitter = decoding.as === 'pulse-gate' ? 0 : value * 2 * (sight.age + sight.late);
  const gate = (2 * unit + jitter) / room;
  const counted = room - (jitter * SECOND) / decoding.gate;
  return {
    gate: Math.ceil(gate * 10) / 10,
    tick: room / (3 * value * frequency),
    ...(counted > 0 && { targets: Math.ceil((2 * unit * SECOND) / decoding.gate / counted) }),
  };
};

/** A public case: 10 Hz read by a task of 100 ms stood still, and was gone "a percent or two" to either side. */
const NEAR = 0.02;

const beatsOf = (view: View, scan: number, perPulse: number): number | undefined => {
  const { places } = view;
  if (places === undefined) return undefined;
  const edges = [places.inner, places.outer].map((edge) => Math.abs(middle(edge)) / perPulse);
  const most = Math.max(...edges) * scan * (1 + NEAR);
  const least = Math.min(...edges) * scan * (1 - NEAR);
  const whole = Math.floor(most);
  return whole >= 1 && whole >= least ? whole : undefined;
};

/** Undefined for a signal of which pulses are not known. */
export const pulsesOf = (view: View): PulseFigures | undefined => {
  const { places, cause, book } = view;
  const perPulse = perPulseOf(view);
  if (places === undefined || perPulse === undefined || perPulse <= 0) return undefined;
  const value = places.sign * places.setPoint;
  if (value <= 0) return undefined;
  const frequency = value / perPulse;
  const step = stepOf(cause.decoding, value, frequency);
  const scan = (book.sources[cause.source]?.scan ?? 0) / SECOND;
  const beats = scan > 0 ? beatsOf(view, scan, perPulse) : undefined;
  return {
    frequency,
    distance: 1 / frequency,
    ...(step !== undefined && { step }),
    ...remedies(view, cause.decoding, value, frequency),
    ...(scan > 0 && { scan, share: frequency * scan }),
    ...(beats !== undefined && { beats }),
  };
};
