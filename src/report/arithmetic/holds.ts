import { type Phrase, SECOND } from '../../measure/index.ts';
import type { Subject } from '../facts.ts';
import { part, sum } from '../phrases.ts';
import { known } from './figures.ts';

/** Held near its set point: for how long, against the longest that it may take to act. */
export const holdLines = (subject: Subject): readonly Phrase[] => {
  const { interlock, occasion, unit, bands, report } = subject;
  const { cause, delay, effects } = interlock;
  if (cause.kind !== 'level') return [];
  const longest = delay ? (delay.time + delay.tolerance) / SECOND : effects[0].within / SECOND;
  const needed = part(delay ? 'longest-delay' : 'longest-effect', { longest });
  return report.verdict.trials.flatMap(({ trial, course, effects: seen }): Phrase[] => {
    const held = course?.held;
    if (course?.kind !== 'hold' || !known(held) || course.seconds === undefined) return [];
    const { certain } = bands;
    const edge = cause.side === 'below' ? certain?.high : certain?.low;
    const inside = edge === undefined ? part('held-inside') : part('held-inside-band', { edge, unit });
    const acted = seen.some(({ changed }) => changed !== undefined);
    return [
      sum(acted ? 'sum-hold-acted' : 'sum-hold-quiet', {
        trial: part(occasion === 'demand' ? 'the-demand' : 'the-trial', { trial }),
        held,
        unit,
        where: course.inside ? inside : part('held-unsure'),
        lasted: Math.floor(course.seconds * 1e3) / 1e3,
        needed,
      }),
    ];
  });
};
