import type { TrialVerdict } from '../judge/index.ts';
import { formatInterval, formatNumber, formatSeconds, unitShown } from '../words/index.ts';
import { mustStay, type Subject } from './facts.ts';
import { isShare } from './levels.ts';

type Course = NonNullable<TrialVerdict['course']>;

/** Three digits; a rate is told to compare it, not to calculate with it. */
const digits = (value: number): string => formatNumber(Number(value.toPrecision(3)));

const rateText = (rate: number, trial: TrialVerdict, subject: Subject): string => {
  const normal = trial.normal ?? subject.bands.normal;
  const middle = normal && (normal.low + normal.high) / 2;
  const share =
    isShare(subject.interlock) && middle ? ` (${digits((rate / middle) * 100)} %/s of normal)` : '';
  return `${digits(rate)} ${unitShown(subject.unit)}/s${share}`;
};

const heldText = ({ held }: Course, unit: string): string =>
  held && Number.isFinite(held.low) && Number.isFinite(held.high) ? ` ${formatInterval(held, unit)}` : '';

/** How a value was moved: `ramp, 1.51 rpm/s (1.57 %/s of normal)`; '' where the cause is no level. */
export const courseText = (trial: TrialVerdict, subject: Subject): string => {
  const { course } = trial;
  if (course === undefined) return '';
  const { kind, rate, seconds = 0, inside } = course;
  const held = heldText(course, subject.unit);
  switch (kind) {
    case 'step':
      return `step${held === '' ? '' : ` to${held}`}`;
    case 'ramp':
      return rate !== undefined && rate > 0 ? `ramp, ${rateText(rate, trial, subject)}` : 'ramp';
    case 'hold':
      return `held${held === '' ? '' : ` at${held}`} for ${formatSeconds(Math.round(seconds * 10) / 10)}${inside ? ', just inside the set point' : ''}`;
    default:
      return kind satisfies never;
  }
};

/** What a trial can prove by the way in which its cause was moved. */
export const courseProves = (trial: TrialVerdict, subject: Subject): string => {
  const { cause, delay } = subject.interlock;
  if (mustStay(subject.interlock)) return 'It can prove that nothing acts there.';
  if (cause.kind !== 'level')
    return 'There is no trip point here: it can prove that the effects come, and when.';
  if (trial.course === undefined) return '';
  switch (trial.course.kind) {
    case 'step':
      return delay === undefined
        ? 'A step can prove the response time; it says little of the level.'
        : 'A step can prove the delay; it says little of the level.';
    case 'ramp':
      return delay === undefined
        ? 'A ramp can prove the level; the response time is only told.'
        : 'A ramp can prove the level only together with a trial that shows the delay.';
    case 'hold':
      return trial.course.inside
        ? 'A hold just inside can prove that nothing acts there.'
        : 'A hold beyond the set point can prove that it acts there.';
    default:
      return trial.course.kind satisfies never;
  }
};
