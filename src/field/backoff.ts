const FIRST = 200;
const LAST = 10_000;

/**
 * Milliseconds to wait before try `n` (0, 1, 2 …): doubling from 200 ms to 10 s, of which half is drawn at random, so
 * that many clients do not return to a restarted device in step.
 */
export const backoff = (n: number, draw: () => number = Math.random): number => {
  const full = Math.min(LAST, FIRST * (1 << Math.min(n, 10)));
  return full / 2 + (full / 2) * draw();
};
