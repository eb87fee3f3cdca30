import type { UnitChoice } from '../../api/index.ts';
import type { QuantityKind } from '../../measure/index.ts';
import { type Book, tellsDifference } from '../../rulebook/index.ts';

type SignalDef = Book['signals'][number];

/** A unit as so many of the first of its kind: a fraction of whole numbers, so that one division rounds once. */
type Fraction = readonly [many: number, of: number];

/**
 * What people at a machine read a quantity in; a kind that is not here is shown in its own unit. 1 ft = 0.3048 m exactly
 * (NIST SP 811, B.8).
 */
const SHOWN: Readonly<Partial<Record<QuantityKind, Readonly<Record<string, Fraction>>>>> = {
  'rotational-speed': { rpm: [1, 1], 'rev/min': [1, 1], 'rev/s': [60, 1] },
  'pulse-rate': { 'pulses/min': [1, 60], Hz: [1, 1], 'pulses/s': [1, 1] },
  'belt-speed': { 'm/s': [1, 1], 'm/min': [1, 60], 'ft/min': [3_048, 600_000] },
  temperature: { degC: [1, 1], degF: [5, 9], K: [1, 1] },
};
/** Units that are another name of one that is offered. */
const NAMESAKES: ReadonlySet<string> = new Set(['rev/min', 'pulses/s']);

/** What 0 of the first is in the second (degF = 1.8 degC + 32, K = degC + 273.15: NIST SP 811, B.8). */
const ZEROS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  degC: { degF: 32, K: 273.15 },
  degF: { degC: -160 / 9, K: 2_298.35 / 9 },
  K: { degC: -273.15, degF: -459.67 },
};

/** `value × factor + offset`; a difference and a rate have no offset. */
const choices = ({ unit, quantity }: SignalDef, difference: boolean): UnitChoice[] => {
  const known = SHOWN[quantity] ?? {};
  const own = known[unit];
  if (own === undefined) return [];
  return Object.entries(known).flatMap(([to, [many, of]]) => {
    if (to === unit || NAMESAKES.has(to)) return [];
    const factor = (own[0] * of) / (own[1] * many);
    return [{ unit: to, factor, offset: difference ? 0 : (ZEROS[unit]?.[to] ?? 0) }];
  });
};

/** A speed that is made of pulses is shown as pulses too: how many a second it is worth is in its decoding. */
const asPulses = ({ decoding, quantity }: SignalDef): UnitChoice[] => {
  if (!('unitsPerPulsePerSecond' in decoding) || quantity === 'pulse-rate') return [];
  const perSecond = 1 / decoding.unitsPerPulsePerSecond;
  return [
    { unit: 'pulses/min', factor: 60 * perSecond, offset: 0 },
    { unit: 'Hz', factor: perSecond, offset: 0 },
  ];
};

/** Units that a signal can be shown in, its own first; one of a state. */
export const unitChoices = (book: Pick<Book, 'signals'>, signal: SignalDef): readonly UnitChoice[] => {
  const own = { unit: signal.unit, factor: 1, offset: 0 };
  return [own, ...choices(signal, tellsDifference(book, signal)), ...asPulses(signal)];
};
