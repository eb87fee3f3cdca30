import type { Interval } from '../measure/index.ts';
import type { Book, InterlockId } from '../rulebook/index.ts';
import type { SignalDef } from '../signal/index.ts';
import { isDifference } from './derivation.ts';
import type { Tell } from './fault.ts';
import type { MarkText } from './marks-schema.ts';
import { inUnit } from './quantities.ts';
import { placeAt, type Tree } from './tree.ts';
import type { Loose } from './walk.ts';

type Field = 'value' | 'doubt' | 'low' | 'high';
type Observed = Pick<Loose<Extract<MarkText, { mark: 'observed' }>>, Field>;

/** The signal tells a difference: a temperature then has no zero of its scale. */
const tellsDifference = (signal: SignalDef, book: Book): boolean => {
  const { address } = signal;
  if (address.kind !== 'derived') return false;
  const inputs = address.from.of.flatMap((id) => book.signals[id] ?? []);
  return isDifference(
    address.from.as,
    inputs.every((input) => tellsDifference(input, book)),
  );
};

const PAIRS = [
  ['value', 'doubt'],
  ['low', 'high'],
] as const;

/**
 * What an instrument showed, in the unit of the signal of the interlock's cause: `value` with its `doubt` to each
 * side, or `low` and `high`. Undefined, and told, where it is neither.
 */
export const observedValue = (
  text: Observed,
  tree: Tree,
  book: Book,
  interlock: InterlockId | undefined,
  tell: Tell,
): Interval | undefined => {
  const there = PAIRS.filter((fields) => fields.some((field) => Object.hasOwn(text, field)));
  const [pair] = there;
  if (pair === undefined || there.length > 1 || !pair.every((field) => Object.hasOwn(text, field))) {
    tell(tree.place, 'observed-value');
    return undefined;
  }
  const signal = book.signals[book.interlocks[interlock ?? -1]?.cause.signal ?? -1];
  if (signal === undefined) return undefined;
  const apart = tellsDifference(signal, book);
  const read = (field: Field): number | undefined => {
    if (text[field] === undefined) return undefined;
    const found = inUnit(text[field], signal.unit, apart || field === 'doubt');
    const params = { unit: text[field], wanted: signal.quantity, units: [signal.unit] };
    if (found === undefined) tell(placeAt(tree, [field]), 'wrong-unit', params);
    return found;
  };
  const [first, second] = [read(pair[0]), read(pair[1])];
  if (first === undefined || second === undefined) return undefined;
  if (pair[0] === 'value') return { low: first - Math.abs(second), high: first + Math.abs(second) };
  if (first <= second) return { low: first, high: second };
  tell(placeAt(tree, ['low']), 'trace-low-above-high', { low: first, high: second });
  return undefined;
};
