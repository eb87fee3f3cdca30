import { type Finding, type Mark, start, step } from '../judge/index.ts';
import { instant, partOf, type Readings } from '../measure/index.ts';
import { sample } from './sampling.ts';
import type { Play } from './types.ts';

const marksOf = (play: Play, readings: Readings): readonly Mark[] => {
  const begins = (readings.earliest[0] ?? 0) - 1;
  const ends = (readings.latest[readings.length - 1] ?? 0) + 1;
  const opens = play.marks.some(({ code }) => code === 'window-opened');
  const closes = play.marks.some(({ code }) => code === 'window-closed');
  const { window, stimuli } = play;
  const all: Mark[] = [...play.marks];
  if (window !== undefined && !opens)
    all.push({ code: 'window-opened', at: instant(window.from ?? begins), window: 'rehearsal', stimuli });
  if ((window !== undefined || opens) && !closes)
    all.push({ code: 'window-closed', at: instant(window?.until ?? ends) });
  // Sorting is stable: marks of one instant stay as written.
  return all.sort((a, b) => a.at - b.at);
};

/** Plays readings and marks through the judge, in the order of time. */
export const perform = (play: Play): readonly Finding[] => {
  const readings = sample(play);
  const state = start(play.book);
  const findings: Finding[] = [];
  let from = 0;
  const feed = (until: number): void => {
    let end = from;
    while (end < readings.length && (readings.latest[end] ?? 0) <= until) end += 1;
    if (end > from) findings.push(...step(state, { readings: partOf(readings, from, end) }));
    from = end;
  };
  for (const mark of marksOf(play, readings)) {
    feed(mark.at);
    findings.push(...step(state, { mark }));
  }
  feed(Number.POSITIVE_INFINITY);
  return findings;
};
