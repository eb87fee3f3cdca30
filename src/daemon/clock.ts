import { type Instant, instant } from '../measure/index.ts';

/** UTC disciplined by a monotonic clock: it never runs backwards, and a step of the machine's clock is told. */
export interface Clock {
  now(): Instant;
  /** Microseconds since this run began. */
  monotonic(): number;
  /** How far the machine's UTC has moved away from ours, in µs, since it was last asked; 0 below a quarter second. */
  stepped(): number;
}

const STEP = 250_000;

export const createClock = (): Clock => {
  const began = process.hrtime.bigint();
  const offset = Date.now() * 1_000;
  let known = 0;
  const monotonic = (): number => Number((process.hrtime.bigint() - began) / 1_000n);
  return {
    monotonic,
    now: () => instant(offset + monotonic()),
    stepped() {
      const away = Date.now() * 1_000 - (offset + monotonic()) - known;
      if (Math.abs(away) < STEP) return 0;
      // Our time goes on as it was: an entry must never be older than the one before it.
      known += away;
      return Math.round(away);
    },
  };
};
