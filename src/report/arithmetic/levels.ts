import type { Aspect } from '../../judge/index.ts';
import { type Interval, SECOND } from '../../measure/index.ts';
import { formatBand, formatInterval, unitShown } from '../../words/index.ts';
import { byEstimate } from '../decision-text.ts';
import type { Subject } from '../facts.ts';
import { decidedLine, ends, estimated, exact, intervalOf, known, numberOf, placed } from './figures.ts';
import { limitLine, normalLine, observedLine, repeatLine } from './limits.ts';

const withUnit = (text: string, unit: string): string => (unit === '' ? text : `${text} ${unitShown(unit)}`);

/** From the trip point to its share of normal. */
export const shareLine = (subject: Subject): string[] => {
  const { tripPoint, tripPercent, normal } = subject.report.verdict;
  if (!known(tripPoint) || !known(tripPercent) || !known(normal)) return [];
  const [low, high] = ends(tripPoint);
  const [least, most] = ends(normal);
  const { unit } = subject;
  return [
    `Trip point ${formatInterval(tripPoint, unit)} ÷ normal ${formatInterval(normal, unit)}: ${low} ÷ ${most} … ${high} ÷ ${least} = ${formatInterval(tripPercent, '%')}.`,
  ];
};

/** `82 ± 1.5 % = 80.5 … 83.5 %`; the band alone where set point and tolerance refer to different things. */
const bandText = (subject: Subject, allowed: Interval, unit: string): string => {
  const { cause } = subject.interlock;
  const band = formatBand(allowed, unit);
  if (cause.kind !== 'level') return band;
  const { setPoint, tolerance } = cause;
  const sum = (level: number, half: number): string =>
    `${withUnit(`${exact(level)} ± ${exact(half)}`, unit)} = ${band}`;
  if (setPoint.of === 'absolute' && tolerance.of === 'absolute')
    return sum(setPoint.offset, tolerance.offset);
  const share = unit === '%' && tolerance.of === setPoint.of && tolerance.offset === 0;
  return share ? sum(setPoint.factor * 100, tolerance.factor * 100) : band;
};

/** The middle of each edge of the band: what guard band and simple acceptance hold the trip point against. */
const middles = ({ bands: { allowed, certain } }: Subject): Interval | undefined => {
  if (!known(allowed) || !known(certain)) return undefined;
  return { low: (allowed.low + certain.low) / 2, high: (allowed.high + certain.high) / 2 };
};

const setPointLine = (subject: Subject, { outcome, reason }: Aspect): string[] => {
  const { interlock } = subject;
  const unit = typeof reason.params['unit'] === 'string' ? reason.params['unit'] : subject.unit;
  const [trip, allowed] = [intervalOf(reason, 'trip'), intervalOf(reason, 'allowed')];
  if (trip === undefined || allowed === undefined) return [];
  const band = bandText(subject, allowed, unit);
  const delay = intervalOf(reason, 'delay');
  if (reason.code === 'level-or-delay-outside') {
    const declared = delay ? `, ${formatBand(delay, 's')}` : '';
    return [
      `With the delay as declared${declared}, the trip point would be ${formatInterval(trip, unit)}, against ${band}: ${placed(outcome, trip, allowed)}.`,
    ];
  }
  if (byEstimate(interlock)) {
    const { tripPoint } = subject.report.verdict;
    const limits = middles(subject);
    if (!known(tripPoint) || limits === undefined) return [];
    const probability = numberOf(reason, 'probability');
    const held = { measured: tripPoint, allowed: limits, unit: subject.unit, outcome, probability };
    return [estimated(interlock, { what: 'Trip point', ...held })];
  }
  const within = intervalOf(reason, 'within');
  const reaction = intervalOf(reason, 'reaction');
  if (within !== undefined && reaction !== undefined) {
    return [
      `Trip point ${formatInterval(trip, unit)} if it acts at once, ${formatInterval(within, unit)} if it takes ${formatInterval(reaction, 's')}, against ${band}: ${placed(outcome, within, allowed)}.`,
    ];
  }
  return [`Trip point ${formatInterval(trip, unit)} against ${band}: ${placed(outcome, trip, allowed)}.`];
};

/** What single trials leave of the delay, where several do. */
const alone = ({ report: { verdict }, interlock, occasion }: Subject): string => {
  if (interlock.cause.kind !== 'level') return '';
  const told = verdict.trials.flatMap(({ trial, aspects, standing }) => {
    if (standing === 'aborted' || aspects.some(({ name }) => name === 'attribution')) return [];
    const reason = aspects.find(({ name }) => name === 'delay')?.reason;
    const delay = reason && intervalOf(reason, 'delay');
    return delay ? [`${occasion} ${trial} alone ${formatInterval(delay, 's')}`] : [];
  });
  return verdict.trials.length < 2 || told.length === 0 ? '' : `What the delay can be: ${told.join('; ')}.`;
};

const delayLine = (subject: Subject, { outcome, reason }: Aspect): string[] => {
  const { interlock } = subject;
  const [measured, allowed] = [intervalOf(reason, 'delay'), intervalOf(reason, 'allowed')];
  if (interlock.delay === undefined || measured === undefined || allowed === undefined) return [];
  const { time, tolerance } = interlock.delay;
  const told = `${exact(time / SECOND)} ± ${exact(tolerance / SECOND, 's')} = ${formatBand(allowed, 's')}`;
  const probability = numberOf(reason, 'probability');
  const each = alone(subject);
  const what = each === '' ? 'Delay' : 'Delay that explains all trials together';
  const held = { what, measured, allowed, unit: 's', outcome, probability };
  return [...(each === '' ? [] : [each]), decidedLine(interlock, held, told)];
};

const LINES: Readonly<Record<string, (subject: Subject, aspect: Aspect) => string[]>> = {
  'set-point': setPointLine,
  delay: delayLine,
  limit: limitLine,
  normal: normalLine,
  repeat: repeatLine,
  observed: observedLine,
};

/** Set point, delay, limit, normal, repetition and instrument, as far as the verdict has figures for them. */
export const levelLines = (subject: Subject): string[] =>
  subject.report.verdict.aspects.flatMap((aspect) => {
    const [name = ''] = aspect.name.split(':');
    return LINES[name]?.(subject, aspect) ?? [];
  });
