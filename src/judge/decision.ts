import { atMost, type Conformity, decide, type Interval, lessThan, type Outcome } from '../measure/index.ts';
import type { Interlock } from '../rulebook/index.ts';

export const OUTCOME_OF = {
  inside: 'pass',
  outside: 'fail',
  undecided: 'inconclusive',
} as const satisfies Record<Conformity['place'], Outcome>;

/** Where a measured interval lies against an exact one, by the rule that the interlock names. */
export const decided = (interlock: Interlock, measured: Interval, allowed: Interval): Conformity =>
  decide(measured, allowed, interlock.decision ?? { rule: 'bounds' });

const middle = ({ low, high }: Interval): Interval => {
  const half = (low + high) / 2;
  return { low: half, high: half };
};

/**
 * The same against limits that are in doubt themselves, because normal is: with `bounds` the whole interval must keep
 * the nearer side of each; the other rules hold it against the best estimate of each.
 */
export const decidedBetween = (
  interlock: Interlock,
  measured: Interval,
  low: Interval,
  high: Interval,
): Conformity => {
  if (interlock.decision !== undefined && interlock.decision.rule !== 'bounds') {
    return decided(interlock, measured, { low: middle(low).low, high: middle(high).low });
  }
  if (atMost(low.high, measured.low) && atMost(measured.high, high.low))
    return { place: 'inside', probability: 1 };
  if (lessThan(measured.high, low.low) || lessThan(high.high, measured.low))
    return { place: 'outside', probability: 0 };
  return { place: 'undecided' };
};

/** Printed beside a decision by guard band or simple acceptance: how likely the value conforms. */
export const likelihood = (interlock: Interlock, { probability }: Conformity): { probability?: number } =>
  interlock.decision === undefined || interlock.decision.rule === 'bounds' || probability === undefined
    ? {}
    : { probability: Math.round(probability * 1e4) / 1e4 };
