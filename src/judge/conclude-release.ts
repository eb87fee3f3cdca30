import { type Interval, lessThan } from '../measure/index.ts';
import { levelAt, levelPlus } from '../rulebook/index.ts';
import { aspect } from './aspect.ts';
import { decidedBetween, OUTCOME_OF } from './decision.ts';
import type { Watch } from './effects.ts';
import { turn } from './levels.ts';
import { isSubstituted, type Trial } from './trial.ts';
import type { Aspect } from './types.ts';

const CODES = {
  inside: 'release-inside',
  outside: 'release-outside',
  undecided: 'release-undecided',
} as const;

/** The edges of the release band, turned: the farther one from normal, and the nearer one. */
const edgesOf = (trial: Trial): { far: Interval; near: Interval } | undefined => {
  const { release, cause } = trial.interlock;
  if (release === undefined || cause.kind !== 'level') return undefined;
  const away = cause.side === 'below' ? -1 : 1;
  const far = levelAt(levelPlus(release.at, release.tolerance, away), trial.references);
  const near = levelAt(levelPlus(release.at, release.tolerance, -away), trial.references);
  return far && near && { far: turn(far, cause.side), near: turn(near, cause.side) };
};

/** Hysteresis: an effect that lasts as long as its cause must go away at its release level, not at its set point. */
export const releaseAspects = (trial: Trial, watch: Watch, unit: string): Aspect[] => {
  const { effect } = watch;
  const { cause } = trial.interlock;
  const edges = edgesOf(trial);
  if (effect.until !== 'cause-clears' || edges === undefined || cause.kind !== 'level') return [];
  if (!watch.changed || watch.wasThere || isSubstituted(trial, watch)) return [];
  const name = `release:${effect.name}`;
  const far = turn(edges.far, cause.side);
  const near = turn(edges.near, cause.side);
  const params = {
    effect: effect.name,
    allowed: { low: Math.min(far.low, near.low), high: Math.max(far.high, near.high) },
    unit,
  };
  if (watch.releaseValue !== undefined) {
    const { place } = decidedBetween(trial.interlock, watch.releaseValue, edges.far, edges.near);
    const value = turn(watch.releaseValue, cause.side);
    return [aspect(name, OUTCOME_OF[place], CODES[place], { ...params, value })];
  }
  const passed = trial.returnedTo !== undefined && lessThan(edges.near.high, trial.returnedTo);
  return passed && watch.released === undefined
    ? [aspect(name, 'fail', 'not-released', params)]
    : [aspect(name, 'inconclusive', 'release-not-seen', params)];
};
