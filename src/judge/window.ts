import { allOf, type Interval, type Outcome, type Reason, SEGMENTS, type Segment } from '../measure/index.ts';
import type { Interlock } from '../rulebook/index.ts';
import { reasonsOf } from './conclude.ts';
import { reconsidered } from './conclude-effects.ts';
import { figuresOf, levelAspects } from './conclude-level.ts';
import { observedAspect } from './conclude-observed.ts';
import { turn } from './levels.ts';
import { copyRegion, narrow, outline, project, type Region, type RegionCell } from './region.ts';
import { repeatAspect } from './repeat.ts';
import { segmentsOf } from './segments.ts';
import { initiating, isSubstituted, type Trial } from './trial.ts';
import type { Aspect, TrialVerdict, WindowVerdict } from './types.ts';

/** A trial that is over, with what the window still needs of it. */
export interface Ended {
  readonly trial: Trial;
  readonly verdict: TrialVerdict;
  /** Number of adjustments that had been recorded before it. */
  readonly adjustments: number;
}

/** Over the trials: a fail stays a fail; else one trial that passed is enough; nobody's silence is a pass. */
const union = (outcomes: readonly Outcome[]): Outcome => {
  for (const outcome of ['fail', 'pass', 'inconclusive'] as const)
    if (outcomes.includes(outcome)) return outcome;
  return 'not-tested';
};

const clean = (ended: Ended): boolean =>
  ended.trial.doubts.size === 0 && ended.trial.cautions.size === 0 && ended.verdict.standing !== 'aborted';

/** What all undoubted trials together leave of (level, delay) pairs. */
const commonRegion = (trials: readonly Ended[]): Region | undefined => {
  let common: Region | undefined;
  for (const { trial } of trials.filter(clean)) {
    if (trial.region === undefined) continue;
    if (common === undefined) common = copyRegion(trial.region);
    else narrow(common, trial.region);
  }
  return common;
};

const LEVEL_ASPECTS = new Set(['set-point', 'delay', 'limit']);

/** Level, delay and limit are judged on the common region; the rest aspect by aspect over the trials. */
const unionAspects = (
  trials: readonly Ended[],
  region: Region | undefined,
  lead: Ended | undefined,
  unit: string,
): Aspect[] => {
  const together = region && lead ? levelAspects(lead.trial, region, unit) : [];
  // What certainly failed in one trial is not undone by what all of them together leave open.
  const certain = (trials[0]?.trial.interlock.decision?.rule ?? 'bounds') === 'bounds';
  const common = together.map((one) => {
    const failed = trials
      .filter((ended) => certain && clean(ended))
      .flatMap(({ verdict }) =>
        verdict.aspects.filter(({ name, outcome }) => name === one.name && outcome === 'fail'),
      );
    return one.outcome === 'fail' ? one : (failed.at(-1) ?? one);
  });
  const reaction = region && project(region).delay;
  const names = new Set(trials.flatMap(({ verdict }) => verdict.aspects.map((one) => one.name)));
  const rest = [...names].flatMap((name): Aspect[] => {
    if (name === 'attribution' || name === 'cause' || (common.length > 0 && LEVEL_ASPECTS.has(name)))
      return [];
    const all = trials.flatMap(({ trial, verdict }) =>
      verdict.aspects.filter((one) => one.name === name).map((one) => reconsidered(one, trial, reaction)),
    );
    const outcome = union(all.map((one) => one.outcome));
    const found = all.findLast((one) => one.outcome === outcome);
    return found ? [found] : [];
  });
  return [...common, ...rest];
};

/** Only where nothing was decided do the doubts of single trials speak for the window. */
const doubtsOf = (trials: readonly Ended[], aspects: readonly Aspect[]): Aspect[] => {
  const outcome = allOf(aspects.map((one) => one.outcome));
  if (outcome === 'pass' || outcome === 'fail') return [];
  return trials.flatMap(({ verdict }) =>
    verdict.aspects.filter((one) => one.name === 'attribution' || one.name === 'cause'),
  );
};

/** Trip points of the undoubted trials, each with the delay that all of them leave possible. */
const tripPoints = (trials: readonly Ended[], common: Region | undefined): Interval[] => {
  const delay = common && project(common).delay;
  return trials.flatMap(({ trial }): Interval[] => {
    const measured = trial.interlock.delay === undefined ? undefined : trial.region;
    const level = measured === undefined ? trial.trip : project(measured, delay).level;
    return level !== undefined && Number.isFinite(level.low) && Number.isFinite(level.high) ? [level] : [];
  });
};

const shownRegion = ({ cause }: Interlock, region: Region): readonly RegionCell[] =>
  outline(region).map(({ delay, level }) => ({
    delay,
    level: cause.kind === 'level' ? turn(level, cause.side) : level,
  }));

/** What else acted in any trial stays a finding: a machine that already stands cannot be stopped a second time. */
const CROSS_TRIPS = new Set(['other-machine-acted', 'unlisted-change']);

const crossTrips = (trials: readonly Ended[]): Aspect[] =>
  trials
    .filter(({ verdict }) => verdict.standing !== 'aborted')
    .flatMap(({ trial }) => [...trial.cautions.values()])
    .filter(({ code }) => CROSS_TRIPS.has(code))
    .map((reason) => ({ name: 'attribution', outcome: 'inconclusive', reason }));

export interface WindowCase {
  readonly interlock: Interlock;
  readonly unit: string;
  readonly trials: readonly Ended[];
  readonly adjustments: number;
  /** Why no trial began, as last told. */
  readonly waits: readonly Reason[];
  /** Reasons that hold for the window as a whole (a changed revision, an interruption). */
  readonly doubts: readonly Reason[];
  /** Restarts that nobody asked for, seen after a trial. */
  readonly extra: readonly Aspect[];
}

/** A pass may rest on several trials, none of which passed alone (a ramp and a step). */
const provedBy = (trials: readonly Ended[]): readonly Segment[] => {
  const all = new Set<Segment>();
  for (const { trial } of trials.filter(clean)) {
    if (initiating(trial) === undefined) continue;
    const seen = trial.watches.filter(
      (watch) => watch.changed && !watch.wasThere && !isSubstituted(trial, watch),
    );
    const classes = seen.map((watch) => watch.effect.class);
    for (const segment of segmentsOf(trial.method, classes, trial.attested.has('horn-heard')))
      all.add(segment);
  }
  return SEGMENTS.filter((segment) => all.has(segment));
};

const reachedRegion = ({ trial }: Ended): boolean =>
  trial.reached !== undefined || initiating(trial) !== undefined;

const dedupe = (aspects: readonly Aspect[]): Aspect[] => {
  const seen = new Set<string>();
  return aspects.filter((one) => {
    const key = JSON.stringify([one.name, one.reason]);
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
};

/** The trial that tells the trip point best: of the narrowest, the last. */
const sharpest = (trials: readonly Ended[]): Ended | undefined => {
  let found: Ended | undefined;
  const widthOf = ({ trial }: Ended): number =>
    trial.trip === undefined ? Number.POSITIVE_INFINITY : trial.trip.high - trial.trip.low;
  for (const one of trials) if (found === undefined || widthOf(one) <= widthOf(found)) found = one;
  return found;
};

/** What was seen before an adjustment says nothing of the interlock as it was left. */
const sinceAdjusted = (trials: readonly Ended[], adjustments: number): readonly Ended[] =>
  trials.filter((one) => one.adjustments === adjustments);

/** Judges an interlock over all its trials of a window. */
export const concludeWindow = (given: WindowCase): WindowVerdict => {
  const { trials, unit } = given;
  const first = trials.find(reachedRegion);
  const verdicts = trials.map((ended) => ({ ...ended.verdict, asFound: ended === first }));
  const left = sinceAdjusted(trials, given.adjustments);
  const failed = trials.some((one) => one.verdict.outcome === 'fail');
  const counted = left.length === 0 && failed ? trials : left;
  const region = commonRegion(counted);
  const deciding = counted.filter((one) => clean(one) && initiating(one.trial) !== undefined);
  const lead = sharpest(deciding);
  const repeats = lead
    ? repeatAspect(given.interlock, tripPoints(deciding, region), lead.trial.references, unit)
    : [];
  // What an instrument showed is often noted when the trial is over.
  const observed = counted.flatMap(({ trial }) => observedAspect(trial, unit));
  const decided = [...unionAspects(counted, region, lead, unit), ...repeats, ...observed, ...given.extra];
  const waiting = given.waits.map((reason): Aspect => ({ name: 'waits', outcome: 'not-tested', reason }));
  const code = trials.length === 0 ? 'no-trial' : 'adjusted-untested';
  const none: Aspect[] = [{ name: 'trial', outcome: 'not-tested', reason: { code, params: {} } }, ...waiting];
  const aspects = dedupe([
    ...(counted.length === 0 ? none : decided),
    ...doubtsOf(counted, decided),
    ...crossTrips(counted),
    ...given.doubts.map((reason): Aspect => ({ name: 'attribution', outcome: 'inconclusive', reason })),
  ]);
  const outcome = allOf(aspects.map((one) => one.outcome));
  const timed = counted.findLast((one) => one.trial.reached?.step === true && one.verdict.response) ?? lead;
  const last = lead ?? counted.at(-1);
  const figures = lead ? figuresOf(lead.trial, region ?? lead.trial.region) : {};
  const asFound = first && verdicts.find((one) => one.trial === first.trial.number)?.outcome;
  return {
    outcome,
    reasons: reasonsOf(outcome, aspects),
    aspects,
    ...figures,
    ...(last?.verdict.normal && { normal: last.verdict.normal }),
    ...(timed?.verdict.response && { response: timed.verdict.response }),
    effects: (timed ?? last)?.verdict.effects ?? [],
    proved: outcome === 'pass' ? provedBy(counted) : [],
    trials: verdicts,
    trial: last?.trial.number ?? 0,
    ...(region && lead && { region: shownRegion(given.interlock, region) }),
    ...(asFound && { asFound }),
    ...(left.length > 0 && left.length < trials.length && { asLeft: outcome }),
  };
};
