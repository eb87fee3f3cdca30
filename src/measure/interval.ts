/** A value known to lie in `[low, high]`; for a state, low = high = its code. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

export const exactly = (value: number): Interval => ({ low: value, high: value });

export const add = (a: Interval, b: Interval): Interval => ({ low: a.low + b.low, high: a.high + b.high });

/** `a` times a number; swaps the bounds where the number is negative. */
export const scale = (a: Interval, by: number): Interval =>
  by >= 0 ? { low: a.low * by, high: a.high * by } : { low: a.high * by, high: a.low * by };

/** `a / b` for a divisor that is certainly positive; undefined otherwise. */
export const divide = (a: Interval, b: Interval): Interval | undefined => {
  if (b.low <= 0) return undefined;
  return {
    low: a.low >= 0 ? a.low / b.high : a.low / b.low,
    high: a.high >= 0 ? a.high / b.low : a.high / b.high,
  };
};

/**
 * Where a measured interval lies against an allowed one. A bound that touches is inside.
 * `EDGE` of relative slack absorbs binary rounding of decimal set points (0.8 × 41 is not 32.8 in IEEE 754).
 */
export type Place = 'inside' | 'outside' | 'undecided';

const EDGE = 1e-9;
/** None beside an unknown bound: what is not known touches nothing. */
const slack = (a: number, b: number): number =>
  Number.isFinite(a) && Number.isFinite(b) ? EDGE * Math.max(1, Math.abs(a), Math.abs(b)) : 0;

/** a ≤ b, with decimal touching counted as equal. */
export const atMost = (a: number, b: number): boolean => a <= b + slack(a, b);
/** a < b, with decimal touching counted as equal. */
export const lessThan = (a: number, b: number): boolean => a < b - slack(a, b);

export const place = (measured: Interval, allowed: Interval): Place => {
  if (atMost(allowed.low, measured.low) && atMost(measured.high, allowed.high)) return 'inside';
  if (lessThan(measured.high, allowed.low) || lessThan(allowed.high, measured.low)) return 'outside';
  return 'undecided';
};
