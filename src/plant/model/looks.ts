/**
 * A program that looks at the level of its speed input now and then instead of timing its pulses. Where a whole number of
 * pulses passes between two looks, the level never changes and a turning shaft seems to stand still.
 */
export interface Looks {
  /** µs. */
  next: number;
  lastPulse: number;
  on: boolean;
  /** Since when the level has not changed. */
  changedAt: number;
}

/** µs; one pulse of four targets at 82 % of 96 rpm. */
const EVERY = 190_500;
/** A level that stays for this long counts as standstill. */
const STILL_AFTER = 1_000_000;

export const newLooks = (): Looks => ({ next: 0, lastPulse: 0, on: false, changedAt: 0 });

/** All looks up to `now`; a target is before the sensor for half of each `period` (µs). */
export const look = (looks: Looks, pulses: readonly number[], period: number, now: number): void => {
  for (; looks.next <= now; looks.next += EVERY) {
    const at = looks.next;
    looks.lastPulse = pulses.findLast((pulse) => pulse <= at) ?? looks.lastPulse;
    const on = at - looks.lastPulse < period / 2;
    if (on !== looks.on) looks.changedAt = at;
    looks.on = on;
  }
  looks.lastPulse = pulses.at(-1) ?? looks.lastPulse;
};

export const seemsStill = (looks: Looks, now: number): boolean => now - looks.changedAt >= STILL_AFTER;
