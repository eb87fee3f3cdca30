import { allOf, type Outcome, type Reason, type Span } from '../measure/index.ts';
import { aspect, delayBand, seconds } from './aspect.ts';
import {
  cameAspect,
  effectsSeen,
  latchAspect,
  momentaryAspect,
  orderAspects,
  responseOf,
} from './conclude-effects.ts';
import { holdAspect } from './conclude-hold.ts';
import { delayAspect, figuresOf, levelAspects } from './conclude-level.ts';
import { normalAspects } from './conclude-normal.ts';
import { releaseAspects } from './conclude-release.ts';
import { turn } from './levels.ts';
import { project } from './region.ts';
import { segmentsOf } from './segments.ts';
import { initiating, isSubstituted, type Trial } from './trial.ts';
import type { Aspect, Course, TrialVerdict } from './types.ts';

/** What a doubt about attribution leaves of the aspects: no pass; and a fail only where nothing could excuse it. */
const HARD = new Set([
  'effect-missing',
  'effect-late',
  'released-on-recovery',
  'did-not-stay',
  'normal-disagrees',
]);

const doubted = (trial: Trial, aspects: readonly Aspect[]): Aspect[] => {
  const doubts = [...trial.doubts.values()];
  const cautions = [...trial.cautions.values()];
  const reasons = [...doubts, ...cautions];
  if (reasons.length === 0) return [...aspects];
  const kept = aspects.map((one): Aspect => {
    if (one.outcome === 'not-tested' || one.name.startsWith('normal')) return one;
    const stands = one.outcome === 'fail' && doubts.length === 0 && HARD.has(one.reason.code);
    return stands ? one : { ...one, outcome: 'inconclusive' };
  });
  return [
    ...kept,
    ...reasons.map((reason) => ({ name: 'attribution', outcome: 'inconclusive' as const, reason })),
  ];
};

/** The reasons that decide, worst first; a pass keeps its own. */
export const reasonsOf = (outcome: Outcome, aspects: readonly Aspect[]): readonly [Reason, ...Reason[]] => {
  const attribution = aspects.filter((one) => one.name === 'attribution');
  const same = aspects.filter((one) => one.outcome === outcome && one.name !== 'attribution');
  const worse = outcome === 'inconclusive' ? [...attribution, ...same] : [...same, ...attribution];
  const rest = aspects.filter((one) => !worse.includes(one) && one.outcome !== 'pass');
  const [first, ...others] = [...worse, ...rest].map((one) => one.reason);
  return [first ?? { code: 'no-trial', params: {} }, ...others];
};

const reachedAspect = (trial: Trial): Aspect[] =>
  trial.reached === undefined && initiating(trial) === undefined
    ? [aspect('cause', 'inconclusive', 'not-reached')]
    : [];

const standingAspect = (trial: Trial): Aspect[] => {
  if (trial.standing === 'complete' || trial.standing === 'unfinished') return [];
  const mark = trial.doubts.get(trial.standing);
  return mark ? [{ name: 'attribution', outcome: 'inconclusive', reason: mark }] : [];
};

const shownCourse = (trial: Trial, course: Course): Course => {
  const { cause } = trial.interlock;
  if (cause.kind !== 'level' || course.held === undefined) return course;
  return { ...course, held: turn(course.held, cause.side) };
};

/** Judges one trial, from everything that was seen of it. */
export const concludeTrial = (trial: Trial, unit: string, allowance: number | undefined): TrialVerdict => {
  const timeless = trial.interlock.cause.kind === 'level' ? undefined : delayBand(trial.interlock);
  const measured = trial.region && project(trial.region).delay;
  const first = initiating(trial);
  const response = first && responseOf(trial, first);
  const aspects = doubted(trial, [
    ...reachedAspect(trial),
    ...levelAspects(trial, trial.region, unit),
    ...(timeless && first ? [delayAspect(trial.interlock, measured ?? response, timeless)] : []),
    ...holdAspect(trial, unit),
    ...trial.onReturn,

    ...normalAspects(trial, allowance),
    ...trial.watches.map((watch) => cameAspect(trial, watch)),
    ...orderAspects(trial),
    ...trial.watches.flatMap((watch) => momentaryAspect(trial, watch)),
    ...trial.watches.flatMap((watch) => latchAspect(trial, watch)),
    ...trial.watches.flatMap((watch) => releaseAspects(trial, watch, unit)),
    ...standingAspect(trial),
  ]);
  const outcome = allOf(aspects.map((one) => one.outcome));
  const classes = trial.watches.filter((one) => one.changed && !one.wasThere && !isSubstituted(trial, one));
  const proved = segmentsOf(
    trial.method,
    classes.map((one) => one.effect.class),
    trial.attested.has('horn-heard'),
  );
  return {
    outcome,
    reasons: reasonsOf(outcome, aspects),
    aspects,
    ...figuresOf(trial, trial.region),
    ...(trial.references.normal && { normal: trial.references.normal }),
    ...(response && Number.isFinite(response.high) && { response: seconds(response) }),
    effects: effectsSeen(trial),
    proved: outcome === 'pass' ? proved : [],
    trial: trial.number,
    method: trial.method,
    ...(trial.course && { course: shownCourse(trial, trial.course) }),
    span: { earliest: Math.round(trial.clearUntil), latest: Math.round(trial.now) } as Span,
    standing: trial.standing === 'running' ? 'unfinished' : trial.standing,
    asFound: false,
  };
};
