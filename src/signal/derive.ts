import { add, divide, exactly, type Interval, scale } from '../measure/index.ts';
import type { Derivation } from './types.ts';

const sum = (values: readonly Interval[]): Interval => values.reduce(add, exactly(0));

const ranked = (values: readonly number[], place: number): number =>
  [...values].sort((a, b) => b - a)[place - 1] ?? Number.NaN;

const rank = (values: readonly Interval[], place: number): Interval => ({
  low: ranked(
    values.map(({ low }) => low),
    place,
  ),
  high: ranked(
    values.map(({ high }) => high),
    place,
  ),
});

/** Highest less lowest: the least that the bounds allow, and the most. */
const spread = (values: readonly Interval[]): Interval => ({
  low: Math.max(0, Math.max(...values.map(({ low }) => low)) - Math.min(...values.map(({ high }) => high))),
  high: Math.max(...values.map(({ high }) => high)) - Math.min(...values.map(({ low }) => low)),
});

/**
 * A derived value from those of its inputs at one instant, the doubt of each carried through (interval arithmetic: the
 * result holds every value that the inputs allow). For `rate` the inputs are the value now and the one `over` before.
 * Undefined where it has none: a ratio to what may be zero.
 */
export const derive = (from: Derivation, values: readonly Interval[]): Interval | undefined => {
  const [first, second] = values;
  if (first === undefined) return undefined;
  if (from.as === 'mean') return scale(sum(values), 1 / values.length);
  if (from.as === 'rank') return rank(values, from.rank);
  if (from.as === 'spread') return spread(values);
  if (second === undefined) return undefined;
  switch (from.as) {
    case 'difference':
      return add(first, scale(second, -1));
    case 'rate':
      return scale(add(first, scale(second, -1)), from.per / from.over);
    case 'ratio': {
      const share = divide(first, second);
      return share && scale(share, from.scale);
    }
    case 'slip': {
      const share = divide(second, first);
      return share && add(exactly(100), scale(share, -100 * from.gear));
    }
    default:
      return from satisfies never;
  }
};
