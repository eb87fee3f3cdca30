import { SECOND } from '../../measure/index.ts';
import { formatInterval, formatSeconds } from '../../words/index.ts';
import type { Subject } from '../facts.ts';
import { exact, known } from './figures.ts';

/** Held near its set point: for how long, against the longest that it may take to act. */
export const holdLines = (subject: Subject): string[] => {
  const { interlock, occasion, unit, bands, report } = subject;
  const { cause, delay, effects } = interlock;
  if (cause.kind !== 'level') return [];
  const longest = delay ? (delay.time + delay.tolerance) / SECOND : effects[0].within / SECOND;
  const needed = `${formatSeconds(longest)}, the longest that ${delay ? 'the declared delay' : 'its first effect'} may take`;
  return report.verdict.trials.flatMap(({ trial, course, effects: seen }) => {
    const held = course?.held;
    if (course?.kind !== 'hold' || !known(held) || course.seconds === undefined) return [];
    const { certain } = bands;
    const edge = cause.side === 'below' ? certain?.high : certain?.low;
    const begins = edge === undefined ? '' : `, the band begins at ${exact(edge, unit)}`;
    const where = course.inside ? `inside${begins}` : 'not certainly inside';
    const acted = seen.some(({ changed }) => changed !== undefined);
    const lasted = formatSeconds(Math.floor(course.seconds * 1e3) / 1e3);
    return [
      `${occasion === 'demand' ? 'Demand' : 'Trial'} ${trial}: held at ${formatInterval(held, unit)} (${where}) for ${lasted}${acted ? ' until it acted; at most' : ', and nothing acted; needed'}: ${needed}.`,
    ];
  });
};
