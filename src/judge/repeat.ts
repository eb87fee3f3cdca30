import { atMost, type Interval, lessThan } from '../measure/index.ts';
import { type Interlock, levelAt, type References } from '../rulebook/index.ts';
import { aspect } from './aspect.ts';
import type { Aspect } from './types.ts';

/** Several trials must agree: how far apart their trip points are at most and at least, against what is allowed. */
export const repeatAspect = (
  interlock: Interlock,
  tripPoints: readonly Interval[],
  references: References,
  unit: string,
): Aspect[] => {
  const { repeat } = interlock;
  if (repeat === undefined) return [];
  const { trials: wanted } = repeat;
  const allowed = levelAt(repeat.within, references)?.low;
  const params = { trials: tripPoints.length, wanted, unit };
  if (tripPoints.length < wanted || allowed === undefined)
    return [aspect('repeat', 'not-tested', 'repeat-more', params)];
  const lows = tripPoints.map(({ low }) => low);
  const highs = tripPoints.map(({ high }) => high);
  const apart = {
    low: Math.max(0, Math.max(...lows) - Math.min(...highs)),
    high: Math.max(...highs) - Math.min(...lows),
  };
  const told = { ...params, apart, allowed: { low: 0, high: allowed } };
  if (atMost(apart.high, allowed)) return [aspect('repeat', 'pass', 'repeats', told)];
  return lessThan(allowed, apart.low)
    ? [aspect('repeat', 'fail', 'does-not-repeat', told)]
    : [aspect('repeat', 'inconclusive', 'repeat-undecided', told)];
};
