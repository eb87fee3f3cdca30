import { type Absence, absenceAt } from '../../measure/index.ts';
import { countUntil, placeOf, type Series, timeOf } from './series.ts';

/** What a signal can have been at an instant: bounds, or the reason why nothing is known, or nothing at all. */
export type ValueAt =
  | { readonly is: 'value'; readonly low: number; readonly high: number }
  | { readonly is: 'absent'; readonly why: Absence }
  | { readonly is: 'nothing' };

const NOTHING: ValueAt = { is: 'nothing' };

/** The newest reading counts for so long after it, in seconds, before it is no longer said of an instant. */
const STILL = 1;

/**
 * Between two readings a signal is taken as monotone: at an instant between them it lay in the hull of both. Beyond the
 * newest it is told as it was last read, for a second.
 */
export const valueAt = (series: Series, t: number): ValueAt => {
  const until = countUntil(series, t);
  if (until === 0) return NOTHING;
  const before = placeOf(series, until - 1);
  const why = absenceAt(series.why[before] as number);
  if (why !== undefined) return { is: 'absent', why };
  const [low, high] = [series.low[before] as number, series.high[before] as number];
  if (until === series.count)
    return t - timeOf(series, until - 1) > STILL ? NOTHING : { is: 'value', low, high };
  const after = placeOf(series, until);
  const gap = absenceAt(series.why[after] as number);
  if (gap !== undefined)
    return t === timeOf(series, until - 1) ? { is: 'value', low, high } : { is: 'absent', why: gap };
  if (t === timeOf(series, until - 1)) return { is: 'value', low, high };
  return {
    is: 'value',
    low: Math.min(low, series.low[after] as number),
    high: Math.max(high, series.high[after] as number),
  };
};
