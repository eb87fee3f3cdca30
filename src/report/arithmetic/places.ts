import type { Aspect, EffectSeen, TrialVerdict, WindowVerdict } from '../../judge/index.ts';
import { type Interval, type Phrase, SECOND, type Span } from '../../measure/index.ts';
import type { Subject } from '../facts.ts';
import type { WindowReport } from '../types.ts';
import { effectLines } from './effects.ts';
import { intervalOf, known } from './figures.ts';
import { holdLines } from './holds.ts';
import { levelLines, shareLine } from './levels.ts';

/** Where on a plot a sum has its figures: seconds after the opening, and a level in the unit of the cause. */
export interface Place {
  readonly from?: number;
  readonly to?: number;
  readonly level?: Interval;
}

/** A sum behind a figure, with the place that it speaks of. */
export interface PlacedLine extends Place {
  readonly says: Phrase;
}

type Opened = WindowReport['opened'];

const placed = (lines: readonly Phrase[], place: Place): PlacedLine[] =>
  lines.map((says) => ({ says, ...place }));

/** From its earliest to its latest instant. */
const within = (
  opened: Opened,
  { earliest, latest }: Span,
): { readonly from: number; readonly to: number } => ({
  from: (earliest - opened) / SECOND,
  to: (latest - opened) / SECOND,
});

/** From when the cause can have reached its set point to when the effect had certainly changed. */
const spanOf = (opened: Opened, seen: EffectSeen | undefined): Pick<Place, 'from' | 'to'> => {
  if (seen?.changed === undefined) return {};
  const { from, to } = within(opened, seen.changed);
  return { from: known(seen.response) ? from - seen.response.high : from, to };
};

/** When it was initiated: between these the first effect that came had changed. */
const tripSpan = (opened: Opened, { effects }: WindowVerdict): Pick<Place, 'from' | 'to'> => {
  const changed = effects.flatMap((one) => one.changed ?? []);
  const first = changed.reduce<(typeof changed)[number] | undefined>(
    (least, one) => (least === undefined || one.latest < least.latest ? one : least),
    undefined,
  );
  return first === undefined ? {} : within(opened, first);
};

/** Which figure of an aspect is a level of the cause. */
const LEVEL_OF: Readonly<Record<string, readonly string[]>> = {
  limit: ['limit'],
  normal: ['normal'],
  observed: ['observed'],
};

const aspectPlace = (opened: Opened, subject: Subject, aspect: Aspect): Place => {
  const { verdict } = subject.report;
  const [name = ''] = aspect.name.split(':');
  const level = (LEVEL_OF[name] ?? []).map((one) => intervalOf(aspect.reason, one)).find(known);
  if (name === 'normal') return level ? { level } : {};
  const trip = name === 'set-point' || name === 'limit' || name === 'observed';
  const own = name === 'set-point' && known(verdict.tripPoint) ? verdict.tripPoint : level;
  return { ...(trip ? tripSpan(opened, verdict) : {}), ...(own && { level: own }) };
};

const withVerdict = (subject: Subject, verdict: WindowVerdict): Subject => ({
  ...subject,
  report: { ...subject.report, verdict },
});

/** The sums of `arithmetic`, in the same order, each with its place. */
export const placedArithmetic = (opened: Opened, subject: Subject): readonly PlacedLine[] => {
  const { verdict } = subject.report;
  const { tripPoint } = verdict;
  const share: Place = { ...tripSpan(opened, verdict), ...(known(tripPoint) && { level: tripPoint }) };
  return [
    ...placed(shareLine(subject), share),
    ...verdict.aspects.flatMap((aspect) =>
      placed(
        levelLines(withVerdict(subject, { ...verdict, aspects: [aspect] })),
        aspectPlace(opened, subject, aspect),
      ),
    ),
    ...verdict.trials.flatMap((trial) =>
      placed(holdLines(withVerdict(subject, { ...verdict, trials: [trial] })), {
        ...within(opened, trial.span),
        ...(known(trial.course?.held) && { level: trial.course.held }),
      }),
    ),
    ...subject.interlock.effects.flatMap((effect) =>
      placed(
        effectLines(opened, { ...subject, interlock: { ...subject.interlock, effects: [effect] } }),
        spanOf(
          opened,
          verdict.effects.find(({ name }) => name === effect.name),
        ),
      ),
    ),
  ];
};

/** The sums of one trial alone. */
export const trialArithmetic = (
  opened: Opened,
  subject: Subject,
  trial: TrialVerdict,
): readonly PlacedLine[] => {
  const { asFound: _, ...verdict } = trial;
  const alone: WindowVerdict = { ...verdict, trials: [trial] };
  return placedArithmetic(opened, withVerdict(subject, alone));
};
