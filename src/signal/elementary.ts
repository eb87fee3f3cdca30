/**
 * Logarithm and exponential from plus, minus, times and divided by alone. The engine's own differ in their last bits
 * between versions, and judging again on another machine must give the same bytes. The logarithm is good to a few
 * parts in 10^16, the exponential to one in 10^12.
 */

/** ln m for 0.7 < m < 1.5: 2 (s + s³/3 + s⁵/5 …) with s = (m − 1) / (m + 1). */
const lnNearOne = (m: number): number => {
  const s = (m - 1) / (m + 1);
  const square = s * s;
  let sum = 0;
  for (let odd = 23; odd >= 1; odd -= 2) sum = sum * square + 1 / odd;
  return 2 * s * sum;
};

/** Natural logarithm; NaN where there is none that is finite. */
export const ln = (x: number): number => {
  if (!(x > 0) || x === Number.POSITIVE_INFINITY) return Number.NaN;
  let halvings = 0;
  let m = x;
  while (m > 1.5) {
    m /= 2;
    halvings += 1;
  }
  while (m < 0.75) {
    m *= 2;
    halvings -= 1;
  }
  return halvings * Math.LN2 + lnNearOne(m);
};

/** e to the x for x ≤ 0: Taylor for a small part of x, then squared back. */
export const expOfNegative = (x: number): number => {
  if (x < -700) return 0;
  let part = x;
  let squarings = 0;
  while (part < -0.0625) {
    part /= 2;
    squarings += 1;
  }
  let sum = 1;
  for (let term = 11; term >= 1; term -= 1) sum = 1 + (sum * part) / term;
  for (; squarings > 0; squarings -= 1) sum *= sum;
  return sum;
};
