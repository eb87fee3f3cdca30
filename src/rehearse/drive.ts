import { exactly, type SignalId } from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import { type Derivation, derive } from '../signal/index.ts';
import type { Cover, Move } from './types.ts';
import type { Rest } from './world.ts';

/** What one excursion does to a signal. */
export interface Shift {
  readonly signal: SignalId;
  readonly moves: readonly Move[];
  readonly covers: readonly Cover[];
}

/** Which inputs of a derived signal move, and to what, so that it takes a value. */
interface Lever {
  readonly signals: readonly SignalId[];
  readonly back: (value: number) => number;
}

/** The others stay as they are while all is well. Undefined where a value alone does not say what its input does. */
const leverOf = (from: Derivation, healthy: readonly number[]): Lever | undefined => {
  const [first = 0, second = 0] = healthy;
  switch (from.as) {
    case 'difference':
      return { signals: [from.of[0]], back: (value) => value + second };
    case 'ratio':
      return { signals: [from.of[0]], back: (value) => (value * second) / from.scale };
    case 'slip':
      return { signals: [from.of[1]], back: (value) => ((1 - value / 100) * first) / from.gear };
    case 'mean':
      return { signals: from.of, back: (value) => value };
    case 'rank':
      return { signals: from.of.slice(0, from.rank), back: (value) => value };
    case 'spread':
      return { signals: from.of.slice(0, 1), back: (value) => value + Math.min(...healthy.slice(1)) };
    case 'rate':
      return undefined;
    default:
      return from satisfies never;
  }
};

/** The value of a signal while all is well, worked out where it is a derived one. */
export const healthyValue = (book: Book, rest: Rest, signal: SignalId): number => {
  const def = book.signals[signal];
  if (def?.address.kind !== 'derived') return rest(signal).start;
  const inputs = def.address.from.of.map((id) => exactly(rest(id).start));
  const value = derive(def.address.from, inputs);
  return value === undefined ? 0 : (value.low + value.high) / 2;
};

/** What the signals behind one do while it moves; undefined where that cannot be said. */
export const drive = (
  book: Book,
  rest: Rest,
  signal: SignalId,
  moves: readonly Move[],
): readonly Shift[] | undefined => {
  const def = book.signals[signal];
  if (def?.address.kind !== 'derived') return [{ signal, moves, covers: [] }];
  const { from } = def.address;
  const lever = leverOf(
    from,
    from.of.map((id) => rest(id).start),
  );
  if (lever === undefined) return undefined;
  const { signals, back } = lever;
  const turned = moves.map((move): Move => {
    if (move.kind === 'step') return { ...move, value: back(move.value) };
    if (move.kind !== 'ramp') return move;
    const { pace } = move;
    const slope = Math.abs(back(1) - back(0));
    const own = 'perSecond' in pace ? { perSecond: pace.perSecond * slope } : pace;
    return { ...move, value: back(move.value), pace: own };
  });
  return signals.map((id) => ({ signal: id, moves: turned, covers: [] }));
};
