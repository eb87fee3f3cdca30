import type { Interval } from '../measure/index.ts';
import { levelAt } from '../rulebook/index.ts';
import { aspect } from './aspect.ts';
import { decided, OUTCOME_OF } from './decision.ts';
import { turn } from './levels.ts';
import type { Trial } from './trial.ts';
import type { Aspect } from './types.ts';

const CODES = {
  inside: 'observed-agrees',
  outside: 'observed-disagrees',
  undecided: 'observed-undecided',
} as const;

/**
 * What the instrument at the sensor showed at the trip, against what the controller had: both with their doubt, and no
 * farther apart than the tolerance of the set point. Errors of scale and of the chain before the controller show here.
 */
export const observedAspect = (trial: Trial, unit: string): Aspect[] => {
  const { observed, interlock, references } = trial;
  const { cause } = interlock;
  if (observed === undefined || cause.kind !== 'level') return [];
  const base = { observed: observed.value, instrument: observed.instrument, by: observed.by, unit };
  const tolerance = levelAt(cause.tolerance, references);
  if (trial.trip === undefined || tolerance === undefined)
    return [aspect('observed', 'inconclusive', 'observed-without-trip', base)];
  const shown = turn(trial.trip, cause.side);
  const apart: Interval = { low: observed.value.low - shown.high, high: observed.value.high - shown.low };
  const { place } = decided(interlock, apart, { low: -tolerance.low, high: tolerance.low });
  return [aspect('observed', OUTCOME_OF[place], CODES[place], { ...base, trip: shown, apart })];
};
