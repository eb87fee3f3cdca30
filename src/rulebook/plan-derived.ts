import type { Interval, SignalId } from '../measure/index.ts';
import { type Derivation, derive, type SignalDef } from '../signal/index.ts';
import { type Known, sightOf } from './plan-sight.ts';
import { type Sharpness, sharpnessOf } from './plan-value.ts';
import type { Book, Machine } from './types.ts';

interface Part {
  readonly value: number;
  readonly sharp: Sharpness;
}

/** What a part is expected to read: its normal, or 0 where the derivation takes differences only. */
const expectedOf = (book: Book, from: Derivation, id: SignalId, known: Known): number | undefined => {
  const normal = book.machines.flatMap(({ normals }) => normals).find(({ signal }) => signal === id);
  const told = known.normals?.[id] ?? normal?.nameplate;
  if (told !== undefined) return (told.low + told.high) / 2;
  return from.as === 'ratio' || from.as === 'slip' ? undefined : 0;
};

const partOf = (
  book: Book,
  machine: Machine | undefined,
  from: Derivation,
  id: SignalId,
  known: Known,
): Part | undefined => {
  const signal: SignalDef | undefined = book.signals.find((one) => one.id === id);
  const value = expectedOf(book, from, id, known);
  if (signal === undefined || value === undefined || signal.address.kind === 'derived') return undefined;
  const sharp = sharpnessOf(signal, sightOf(book, id, machine, known, value), value);
  return sharp && { value, sharp };
};

/** Width of what is derived when every part is known to ± half of `of`. A rate compares two readings of one part. */
const widthOf = (from: Derivation, parts: readonly Part[], of: keyof Sharpness): number | undefined => {
  const values = parts.map(
    ({ value, sharp }): Interval => ({ low: value - sharp[of] / 2, high: value + sharp[of] / 2 }),
  );
  if (from.as === 'spread') {
    const [widest = 0, next = 0] = parts.map(({ sharp }) => sharp[of]).sort((a, b) => b - a);
    return widest + next;
  }
  const found = derive(from, from.as === 'rate' ? [...values, ...values] : values);
  return found && found.high - found.low;
};

/** The doubt of every part carried through; undefined where ratios need values that are not known beforehand. */
export const derivedSharpness = (
  book: Book,
  machine: Machine | undefined,
  from: Derivation,
  known: Known,
): Sharpness | undefined => {
  const parts = from.of.map((id) => partOf(book, machine, from, id, known));
  const all = parts.filter((part) => part !== undefined);
  if (all.length < parts.length || all.length === 0) return undefined;
  const reading = widthOf(from, all, 'reading');
  const reach = widthOf(from, all, 'reach');
  const hull = widthOf(from, all, 'hull');
  return reading === undefined || reach === undefined || hull === undefined
    ? undefined
    : { reading, reach, hull };
};
