import { normalBelow } from './conformance-normal.ts';
import { atMost, type Interval, lessThan, type Place } from './interval.ts';

/**
 * How a value is spread over its interval. `rectangular`: anywhere in it, u = half / √3 (GUM 4.3.7).
 * `normal`: the interval is y ± U with U = 2 u, so that 95 % lie in it (GUM 6.3.3).
 */
export type Shape = 'rectangular' | 'normal';

/**
 * `bounds`: the whole interval decides. `guard-band`: the best estimate (middle) decides, against limits narrowed by
 * w = r × U for a pass and widened by w for a fail; U = 2 u, r is 1 where unstated (JCGM 106:2012, 8.3;
 * ILAC-G8:09/2019). `simple`: the middle against the limits themselves, w = 0.
 */
export interface DecisionRule {
  readonly rule: 'bounds' | 'guard-band' | 'simple';
  readonly r?: number;
  /** `rectangular` where unstated. */
  readonly shape?: Shape;
}

/** What a result must lie in; an infinite side sets no limit. A bound that touches is inside, unless `open`. */
export interface Allowed extends Interval {
  readonly open?: boolean;
}

/** Where a result lies by a decision rule, and how likely it conforms. */
export interface Conformity {
  readonly place: Place;
  /** Probability of conformance, 0 … 1 (JCGM 106:2012, 7). Absent where a bound that matters is not known. */
  readonly probability?: number;
}

type Towards = 1 | -1;

/** The value certainly keeps the limit on its one side: 1 for a lower limit, -1 for an upper one. */
const keeps = (value: number, limit: number, towards: Towards, open: boolean): boolean => {
  if (limit === -towards * Number.POSITIVE_INFINITY) return true;
  if (!Number.isFinite(limit) || !Number.isFinite(value)) return false;
  return open ? lessThan(towards * limit, towards * value) : atMost(towards * limit, towards * value);
};

const breaks = (value: number, limit: number, towards: Towards, open: boolean): boolean => {
  if (!Number.isFinite(limit) || !Number.isFinite(value)) return false;
  return open ? atMost(towards * value, towards * limit) : lessThan(towards * value, towards * limit);
};

const placeIn = (result: Interval, { low, high, open = false }: Allowed): Place => {
  if (!(result.low <= result.high)) return 'undecided';
  if (keeps(result.low, low, 1, open) && keeps(result.high, high, -1, open)) return 'inside';
  return breaks(result.high, low, 1, open) || breaks(result.low, high, -1, open) ? 'outside' : 'undecided';
};

const middleOf = ({ low, high }: Interval): number => low + (high - low) / 2;

/** Standard uncertainty of a result that is given as an interval. */
const standardOf = ({ low, high }: Interval, shape: Shape): number =>
  (high - low) / 2 / (shape === 'normal' ? 2 : Math.sqrt(3));

const CERTAIN: Readonly<Record<Place, number | undefined>> = { inside: 1, outside: 0, undecided: undefined };

/** A rectangular result is certain where its bounds are; a normal one never is, unless it has no width. */
const probabilityOf = (result: Interval, allowed: Allowed, shape: Shape): number | undefined => {
  const width = result.high - result.low;
  const standard = standardOf(result, shape);
  const spread = standard > 0 && Number.isFinite(width);
  if (spread && shape === 'normal') {
    const below = (value: number): number => normalBelow((value - middleOf(result)) / standard);
    return below(allowed.high) - below(allowed.low);
  }
  const certain = CERTAIN[placeIn(result, allowed)];
  if (certain !== undefined || !spread) return certain;
  return (Math.min(result.high, allowed.high) - Math.max(result.low, allowed.low)) / width;
};

/** The interval that must lie wholly on one side of the limits, for the rule to decide. */
const deciding = (result: Interval, { rule, r = 1, shape = 'rectangular' }: DecisionRule): Interval => {
  if (rule === 'bounds') return result;
  const guard = rule === 'simple' ? 0 : r * 2 * standardOf(result, shape);
  const middle = middleOf(result);
  return { low: middle - guard, high: middle + guard };
};

/**
 * Decides a measured interval against an allowed one. A result without bounds has no middle: then only `bounds` can
 * decide. Where the limit itself is in doubt, hand in the difference (or share) of both against an exact limit.
 */
export const decide = (measured: Interval, allowed: Allowed, rule: DecisionRule): Conformity => {
  if (!(measured.low <= measured.high && allowed.low <= allowed.high)) return { place: 'undecided' };
  const probability = probabilityOf(measured, allowed, rule.shape ?? 'rectangular');
  return {
    place: placeIn(deciding(measured, rule), allowed),
    ...(probability !== undefined && { probability }),
  };
};
