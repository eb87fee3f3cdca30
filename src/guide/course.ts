import type { Attestation, Finding, Mark, TrialVerdict, WindowVerdict } from '../judge/index.ts';
import type { InterlockId } from '../rulebook/index.ts';
import type { GuidedInterlock, Restoration, SaidBy, Step } from './types.ts';

/** What is entered on a guided window, in the order of the log. */
export type GuideEntry = { readonly utc: string } & (
  | { readonly step: Step }
  | { readonly mark: Mark }
  | { readonly finding: Finding }
);

/** What has become of one interlock so far. */
export interface Course {
  readonly id: InterlockId;
  readonly machine: number;
  identified?: NonNullable<GuidedInterlock['identified']>;
  watch?: { running: boolean; moved: readonly string[]; alone: boolean };
  called?: SaidBy;
  repeated?: SaidBy;
  countdown?: SaidBy & { readonly at: string };
  /** NOW is over. */
  now: boolean;
  /** Number of the trial that runs, and whether the interlock has acted in it. */
  running: number;
  acted: boolean;
  trials: TrialVerdict[];
  /** Over all trials, as it was entered at the close. */
  closed?: WindowVerdict;
  /** Trials that were over when it was taken up again: what came before does not end it. */
  before: number;
  /** Only what was said while a trial ran counts. */
  attested: Map<Attestation, NonNullable<GuidedInterlock['attestations'][number]['given']>>;
  left?: SaidBy & { readonly why: string };
}

/** The whole way of a window. */
export interface Walk {
  readonly courses: ReadonlyMap<string, Course>;
  readonly restored: Map<Restoration, SaidBy & { readonly note: string }>;
  readonly gaps: { readonly from: number; readonly to: number }[];
  /** The interlock that somebody turned to last. */
  turned: string;
}

export const newWalk = (
  interlocks: readonly { readonly id: InterlockId; readonly name: string; readonly machine: number }[],
): Walk => ({
  courses: new Map(
    interlocks.map(({ id, name, machine }) => [
      name,
      { id, machine, now: false, running: 0, acted: false, trials: [], before: 0, attested: new Map() },
    ]),
  ),
  restored: new Map(),
  gaps: [],
  turned: '',
});

const hangUp = (course: Course): void => {
  delete course.called;
  delete course.repeated;
  delete course.countdown;
  course.now = false;
};

const takeStep = (walk: Walk, step: Step, utc: string): void => {
  const said: SaidBy = { by: step.by, utc };
  if (step.do === 'restored') {
    walk.restored.set(step.item, { ...said, note: step.note });
    return;
  }
  const course = walk.courses.get(step.interlock);
  if (course === undefined) return;
  walk.turned = step.interlock;
  switch (step.do) {
    case 'identified': {
      const { typed, how, matches } = step;
      course.identified = { ...said, typed, how, matches };
      // Another sensor may be meant now: what moved before says nothing of it.
      delete course.watch;
      return;
    }
    case 'watch-began':
      course.watch = { running: true, moved: [], alone: false };
      return;
    case 'watch-ended':
      course.watch = { running: false, moved: step.moved, alone: step.alone };
      return;
    case 'called':
      hangUp(course);
      course.called = said;
      return;
    case 'repeated-back':
      course.repeated = said;
      return;
    case 'countdown':
      course.countdown = { ...said, at: step.at };
      course.now = false;
      return;
    case 'countdown-stopped':
      delete course.countdown;
      return;
    case 'left':
      hangUp(course);
      course.left = { ...said, why: step.why };
      return;
    case 'taken-up':
      hangUp(course);
      delete course.left;
      course.before = course.trials.length;
      return;
    default:
      step satisfies never;
  }
};

const takeMark = (walk: Walk, mark: Mark, utc: string): void => {
  if (mark.code === 'interrupted' && mark.restarted === true)
    walk.gaps.push({ from: mark.from, to: mark.at });
  if (mark.code === 'now')
    for (const course of walk.courses.values())
      if (course.countdown !== undefined && mark.interlock === course.id) course.now = true;
  if (mark.code !== 'attested') return;
  for (const course of walk.courses.values()) {
    if (course.machine !== mark.machine || course.running === 0) continue;
    const { by, where } = mark;
    course.attested.set(mark.what, { by, utc, ...(where !== undefined && { where }) });
  }
};

const takeFinding = (course: Course, finding: Finding): void => {
  if (finding.kind === 'trial') {
    course.trials.push(finding.verdict);
    course.running = 0;
    hangUp(course);
  }
  if (finding.kind === 'window') course.closed = finding.verdict;
  if (finding.kind !== 'event' || finding.trial === 0) return;
  const { code } = finding.reason;
  if (code === 'trial-began') {
    course.running = finding.trial;
    course.acted = false;
  }
  // Of a trial that is over more may come.
  if (code === 'effect-came' && finding.trial === course.running) course.acted = true;
};

/** A finding that the way through a window goes by; the others need not be kept for it. */
export const isOnTheWay = ({ kind, demand }: Finding): boolean =>
  demand !== true && (kind === 'trial' || kind === 'event' || kind === 'window');

/** Takes what was entered next. */
export const walkOn = (walk: Walk, entry: GuideEntry): void => {
  if ('step' in entry) takeStep(walk, entry.step, entry.utc);
  else if ('mark' in entry) takeMark(walk, entry.mark, entry.utc);
  else if (entry.finding.demand !== true) {
    for (const course of walk.courses.values())
      if (course.id === entry.finding.interlock) takeFinding(course, entry.finding);
  }
};
