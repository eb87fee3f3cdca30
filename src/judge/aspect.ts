import { type Interval, type Outcome, type Reason, SECOND } from '../measure/index.ts';
import { type Interlock, REACTION as USUAL } from '../rulebook/index.ts';
import type { Aspect } from './types.ts';

export const aspect = (
  name: string,
  outcome: Outcome,
  code: string,
  params: Reason['params'] = {},
): Aspect => ({
  name,
  outcome,
  reason: { code, params },
});

export const seconds = (micros: Interval): Interval => ({
  low: micros.low / SECOND,
  high: micros.high / SECOND,
});

/** The longest that the declared delay may take, in µs; 0: none is declared. */
export const longestDelay = ({ delay }: Interlock): number => (delay ? delay.time + delay.tolerance : 0);

/** Delay ± tolerance in µs. */
export const delayBand = (interlock: Interlock): Interval | undefined =>
  interlock.delay && {
    low: Math.max(0, interlock.delay.time - interlock.delay.tolerance),
    high: longestDelay(interlock),
  };

/**
 * What an interlock without a declared delay takes all the same, as the planner reckons. A cause that jumped on its way says nothing of it: then as long as the effect is allowed to take.
 */
export const REACTION = USUAL * SECOND;
