import { type Instant, instant } from '../measure/index.ts';

/** µs of the monotonic clock since now, from `start` on: enough for a short look at a device. */
export const clockFrom = (start = 0): { now(): Instant } => {
  const began = process.hrtime.bigint();
  return { now: () => instant(start + Number((process.hrtime.bigint() - began) / 1_000n)) };
};
