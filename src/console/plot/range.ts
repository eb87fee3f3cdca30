/** A part of its span is left free above and below. */
const AIR = 0.08;
/** It becomes narrower only where so much of it would be empty. */
const EMPTY = 0.5;
/** While nothing moves: no scale is narrower than this share of the value. */
const LEAST_SHARE = 0.02;

/**
 * Least and greatest of a scale from those of what it shows. It widens at once and narrows only when half of it would
 * be empty, so that a picture does not breathe with each reading.
 */
export const steadyRange = (): ((least: number, greatest: number) => readonly [number, number]) => {
  let [min, max] = [Number.NaN, Number.NaN];
  return (least, greatest) => {
    if (!(least <= greatest)) return Number.isNaN(min) ? [0, 1] : [min, max];
    const middle = (least + greatest) / 2;
    const wide = Math.max(greatest - least, Math.abs(middle) * LEAST_SHARE, 1e-6);
    const air = wide * AIR;
    const [low, high] = [middle - wide / 2 - air, middle + wide / 2 + air];
    const fits = least >= min && greatest <= max && high - low > (max - min) * EMPTY;
    if (!fits) {
      min = low;
      max = high;
    }
    return [min, max];
  };
};
