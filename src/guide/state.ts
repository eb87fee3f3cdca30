import type { Stimulus, WaitsNow, WindowVerdict } from '../judge/index.ts';
import { formatUtc, type Instant, type Reason } from '../measure/index.ts';
import { type Book, causeSignals, type InterlockId } from '../rulebook/index.ts';
import type { Course, Walk } from './course.ts';
import { expectedOf } from './identity.ts';
import { attestationsNeeded, trialsNeeded } from './needs.ts';
import { type GuidedInterlock, type GuideState, type Precaution, RESTORATIONS, type Stage } from './types.ts';

/** What stands in the entry of the opening. */
export interface GuideOpening {
  readonly window: string;
  /** RFC 3339, UTC. */
  readonly opened: string;
  readonly stimuli: readonly Stimulus[];
  readonly people: readonly { readonly name: string; readonly role: string }[];
  readonly permit: string;
  readonly precautions: readonly Precaution[];
}

/** What the judge and whoever watches the sensors tell now. Nothing of it is needed once the window is over. */
export interface GuideLive {
  readonly waits: ReadonlyMap<InterlockId, WaitsNow>;
  readonly verdicts: ReadonlyMap<InterlockId, WindowVerdict>;
  /** To whoever moves the cause, by name of the interlock. */
  readonly advice: ReadonlyMap<string, Reason>;
  /** What has moved so far, by name of the interlock that is watched. */
  readonly moving: ReadonlyMap<string, readonly string[]>;
}

export const NOTHING_LIVE: GuideLive = {
  waits: new Map(),
  verdicts: new Map(),
  advice: new Map(),
  moving: new Map(),
};

const DECIDED = new Set(['pass', 'fail']);

const isDecided = (course: Course, verdict: WindowVerdict | undefined): boolean =>
  verdict !== undefined && DECIDED.has(verdict.outcome) && course.trials.length > course.before;

const stageOf = (
  course: Course,
  verdict: WindowVerdict | undefined,
  ready: boolean,
  missing: readonly string[],
): Stage => {
  if (course.left !== undefined) return 'done';
  if (course.running > 0) return course.acted && missing.length > 0 ? 'attest' : 'move';
  if (isDecided(course, verdict)) return 'done';
  const { identified, watch } = course;
  if (identified?.matches !== true) return 'identify';
  if (watch !== undefined && (watch.running || !watch.alone)) return 'identify';
  if (!ready) return 'baseline';
  return course.now ? 'move' : 'call';
};

const trialsOf = ({ trials }: Course): GuidedInterlock['trials'] =>
  trials.map(({ trial, outcome, reasons, tripPoint, response, proved }) => ({
    trial,
    outcome,
    reasons,
    ...(tripPoint && { tripPoint }),
    ...(response && { response }),
    proved,
  }));

const guidedOf = (
  book: Book,
  { interlock: id, method }: Stimulus,
  course: Course,
  live: GuideLive,
): GuidedInterlock | undefined => {
  const interlock = book.interlocks[id];
  if (interlock === undefined) return undefined;
  const { name, title, cause } = interlock;
  const signal = book.signals[causeSignals(cause)[0] ?? cause.signal];
  const verdict = course.closed ?? live.verdicts.get(id);
  const { waits = [], ready = false, trial = 0 } = live.waits.get(id) ?? {};
  const attestations = attestationsNeeded(book, interlock, method, verdict).map((what) => {
    const given = course.attested.get(what);
    return { what, ...(given && { given }) };
  });
  const missing = attestations.flatMap(({ what, given }) => (given === undefined ? [what] : []));
  const advice = live.advice.get(name);
  const { identified, watch, called, repeated, countdown, left } = course;
  return {
    name,
    title,
    machine: book.machines[interlock.machine]?.name ?? '',
    method,
    signal: signal?.name ?? '',
    unit: signal?.unit ?? '',
    stage: stageOf(course, verdict, ready, missing),
    expects: expectedOf(book, interlock),
    ...(identified && { identified }),
    ...(watch && {
      alone: { ...watch, moved: watch.running ? (live.moving.get(name) ?? []) : watch.moved },
    }),
    waits,
    ready,
    ...(called && { called }),
    ...(repeated && { repeated }),
    ...(countdown && { countdown }),
    trial,
    ...(advice && { advice: { code: advice.code, params: advice.params } }),
    trials: trialsOf(course),
    needs: trialsNeeded(interlock),
    ...(verdict && { outcome: verdict.outcome }),
    attestations,
    ...(left && { left }),
  };
};

const openIn = (one: GuidedInterlock): Reason[] => {
  const { name: interlock, trial, trials, stage, left, outcome } = one;
  const said = (code: string, params: Reason['params'] = {}): Reason => ({
    code,
    params: { interlock, ...params },
  });
  if (left !== undefined) return [];
  if (trial > 0) return [said('guide-trial-runs')];
  if (trials.length === 0) return [said('guide-no-trial')];
  const decided = stage === 'done' || (outcome !== undefined && DECIDED.has(outcome));
  return [
    ...(decided ? [] : [said('guide-undecided', { trials: trials.length })]),
    ...(one.identified?.matches === true ? [] : [said('guide-not-identified')]),
    ...(one.alone === undefined || one.alone.alone ? [] : [said('guide-not-alone')]),
    ...one.attestations.flatMap(({ what, given }) =>
      given === undefined ? [said('guide-not-attested', { what })] : [],
    ),
  ];
};

/** A trial that runs comes first, then what somebody turned to last, then the first that is not over. */
const currentOf = (all: readonly GuidedInterlock[], turned: string): string => {
  const open = all.filter(({ stage }) => stage !== 'done');
  const now = open.find(({ trial }) => trial > 0) ?? open.find(({ name }) => name === turned) ?? open[0];
  return now?.name ?? '';
};

/** Where a guided window stands. A function of its entries and of what is told live. */
export const guideOf = (
  book: Book,
  opening: GuideOpening,
  walk: Walk,
  live: GuideLive,
  end: Pick<GuideState, 'standing' | 'why'>,
): GuideState => {
  const { window, opened, stimuli, people, permit, precautions } = opening;
  const interlocks = stimuli.flatMap((stimulus) => {
    const course = walk.courses.get(book.interlocks[stimulus.interlock]?.name ?? '');
    return (course && guidedOf(book, stimulus, course, live)) ?? [];
  });
  const restoration = RESTORATIONS.map((item) => {
    const done = walk.restored.get(item);
    return { item, ...(done && { done }) };
  });
  const unrestored = restoration.flatMap(({ item, done }): Reason[] =>
    done === undefined ? [{ code: 'guide-not-restored', params: { item } }] : [],
  );
  return {
    window,
    ...end,
    opened,
    people,
    permit,
    precautions,
    interlocks,
    current: end.standing === 'open' ? currentOf(interlocks, walk.turned) : '',
    restoration,
    open: [...interlocks.flatMap(openIn), ...unrestored],
    gaps: walk.gaps.map(({ from, to }) => ({
      from: formatUtc(from as Instant),
      to: formatUtc(to as Instant),
    })),
  };
};
