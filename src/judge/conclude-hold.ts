import { aspect } from './aspect.ts';
import { turn } from './levels.ts';
import { initiating, type Trial } from './trial.ts';
import type { Aspect } from './types.ts';

/** Held just inside the set point, it must not act: told where a trial certainly never reached the band. */
export const holdAspect = (trial: Trial, unit: string): Aspect[] => {
  const { course, interlock } = trial;
  const { cause } = interlock;
  if (course?.inside !== true || course.held === undefined || cause.kind !== 'level') return [];
  const params = { value: turn(course.held, cause.side), seconds: course.seconds ?? 0, unit };
  return initiating(trial)
    ? [aspect('hold-inside', 'fail', 'acted-inside', params)]
    : [aspect('hold-inside', 'pass', 'quiet-inside', params)];
};
