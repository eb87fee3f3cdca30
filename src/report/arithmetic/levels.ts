import type { Aspect } from '../../judge/index.ts';
import { type Interval, type Phrase, SECOND } from '../../measure/index.ts';
import { byEstimate } from '../decision-text.ts';
import type { Subject } from '../facts.ts';
import { part, sum } from '../phrases.ts';
import { decidedDelay, estimated, intervalOf, known, numberOf, placed } from './figures.ts';
import { limitLine, normalLine, observedLine, repeatLine } from './limits.ts';

/** From the trip point to its share of normal. */
export const shareLine = (subject: Subject): readonly Phrase[] => {
  const { tripPoint, tripPercent, normal } = subject.report.verdict;
  if (!known(tripPoint) || !known(tripPercent) || !known(normal)) return [];
  return [sum('sum-share', { trip: tripPoint, normal, share: tripPercent, unit: subject.unit })];
};

/** `82 ± 1.5 % = 80.5 … 83.5 %`; the band alone where set point and tolerance refer to different things. */
const bandOf = (subject: Subject, allowed: Interval, unit: string): Phrase => {
  const { cause } = subject.interlock;
  const alone = part('band-alone', { allowed, unit });
  if (cause.kind !== 'level') return alone;
  const { setPoint, tolerance } = cause;
  const of = (middle: number, half: number): Phrase => part('band-of-sum', { middle, half, allowed, unit });
  if (setPoint.of === 'absolute' && tolerance.of === 'absolute') return of(setPoint.offset, tolerance.offset);
  const share = unit === '%' && tolerance.of === setPoint.of && tolerance.offset === 0;
  return share ? of(setPoint.factor * 100, tolerance.factor * 100) : alone;
};

/** The middle of each edge of the band: what guard band and simple acceptance hold the trip point against. */
const middles = ({ bands: { allowed, certain } }: Subject): Interval | undefined => {
  if (!known(allowed) || !known(certain)) return undefined;
  return { low: (allowed.low + certain.low) / 2, high: (allowed.high + certain.high) / 2 };
};

const setPointLine = (subject: Subject, { outcome, reason }: Aspect): readonly Phrase[] => {
  const { interlock } = subject;
  const unit = typeof reason.params['unit'] === 'string' ? reason.params['unit'] : subject.unit;
  const [trip, allowed] = [intervalOf(reason, 'trip'), intervalOf(reason, 'allowed')];
  if (trip === undefined || allowed === undefined) return [];
  const band = bandOf(subject, allowed, unit);
  const place = placed(outcome, trip, allowed);
  const delay = intervalOf(reason, 'delay');
  if (reason.code === 'level-or-delay-outside')
    return [sum('sum-trip-declared', { trip, band, place, unit, ...(delay && { delay }) })];
  if (byEstimate(interlock)) {
    const { tripPoint } = subject.report.verdict;
    const limits = middles(subject);
    if (!known(tripPoint) || limits === undefined) return [];
    const probability = numberOf(reason, 'probability');
    const held = { measured: tripPoint, allowed: limits, unit: subject.unit, outcome, probability };
    return [estimated(interlock, { what: 'the-trip-point', ...held })];
  }
  const within = intervalOf(reason, 'within');
  const reaction = intervalOf(reason, 'reaction');
  if (within !== undefined && reaction !== undefined) {
    const all = placed(outcome, within, allowed);
    return [sum('sum-trip-reaction', { trip, within, reaction, band, place: all, unit })];
  }
  return [sum('sum-trip', { trip, band, place, unit })];
};

/** What single trials leave of the delay, where several do. */
const alone = ({ report: { verdict }, interlock, occasion }: Subject): readonly Phrase[] => {
  if (interlock.cause.kind !== 'level' || verdict.trials.length < 2) return [];
  return verdict.trials.flatMap(({ trial, aspects, standing }): Phrase[] => {
    if (standing === 'aborted' || aspects.some(({ name }) => name === 'attribution')) return [];
    const reason = aspects.find(({ name }) => name === 'delay')?.reason;
    const delay = reason && intervalOf(reason, 'delay');
    return delay ? [part(`${occasion}-alone`, { trial, delay })] : [];
  });
};

const delayLine = (subject: Subject, { outcome, reason }: Aspect): readonly Phrase[] => {
  const { interlock } = subject;
  const [measured, allowed] = [intervalOf(reason, 'delay'), intervalOf(reason, 'allowed')];
  if (interlock.delay === undefined || measured === undefined || allowed === undefined) return [];
  const { time, tolerance } = interlock.delay;
  const told = { time: time / SECOND, tolerance: tolerance / SECOND, allowed };
  const probability = numberOf(reason, 'probability');
  const trials = alone(subject);
  const what = trials.length === 0 ? 'the-delay' : 'the-delay-of-all';
  const held = { what, measured, allowed, unit: 's', outcome, probability } as const;
  return [
    ...(trials.length === 0 ? [] : [sum('sum-delay-each', { trials })]),
    decidedDelay(interlock, held, told),
  ];
};

const LINES: Readonly<Record<string, (subject: Subject, aspect: Aspect) => readonly Phrase[]>> = {
  'set-point': setPointLine,
  delay: delayLine,
  limit: limitLine,
  normal: normalLine,
  repeat: repeatLine,
  observed: observedLine,
};

/** Set point, delay, limit, normal, repetition and instrument, as far as the verdict has figures for them. */
export const levelLines = (subject: Subject): readonly Phrase[] =>
  subject.report.verdict.aspects.flatMap((aspect) => {
    const [name = ''] = aspect.name.split(':');
    return LINES[name]?.(subject, aspect) ?? [];
  });
