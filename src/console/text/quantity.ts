import type { SignalShown, UnitChoice } from '../../api/index.ts';
import { formatInterval } from '../../words/index.ts';
import { prefs, UNIT_KINDS, type UnitKind } from '../state/prefs.ts';
import { numbers } from './speech.ts';

/** Unit in which a signal is shown to this person: the first of its units that was asked for, or its own. */
export const unitOf = (signal: Pick<SignalShown, 'unit' | 'units'> | undefined): UnitChoice => {
  const own = { unit: signal?.unit ?? '', factor: 1, offset: 0 };
  const wishes = (Object.keys(UNIT_KINDS) as UnitKind[]).map((kind) => prefs.value.units[kind]);
  return signal?.units.find(({ unit }) => wishes.includes(unit)) ?? own;
};

export const convert = (value: number, { factor, offset }: UnitChoice): number => value * factor + offset;

/** Bounds in the unit that is shown, least first. */
export const convertBounds = (
  low: number,
  high: number,
  unit: UnitChoice,
): { readonly low: number; readonly high: number } => {
  const [a, b] = [convert(low, unit), convert(high, unit)];
  return { low: Math.min(a, b), high: Math.max(a, b) };
};

/** Bounds as text with their unit, rounded outward. */
export const boundsText = (low: number, high: number, signal: SignalShown | undefined): string => {
  const unit = unitOf(signal);
  return formatInterval(convertBounds(low, high, unit), unit.unit, numbers());
};
