import type { RecordNow } from '../../../api/index.ts';
import type { PlotMark } from '../../plot/model.ts';
import { sentence } from '../../text/say.ts';

/** What people said in a window, and its comments, as flags; `zero`: of the plot, microseconds since 1970. */
export const marksOf = (record: RecordNow | undefined, zero: number): readonly PlotMark[] => {
  if (record === undefined) return [];
  const shift = (record.zero - zero) / 1e6;
  return [
    ...record.notes.map(
      ({ t, by, says }): PlotMark => ({
        t: t + shift,
        kind: 'now',
        text: `${sentence(says)} (${sentence(by)})`,
      }),
    ),
    ...record.comments.flatMap(({ at, by, text }): readonly PlotMark[] =>
      at === undefined ? [] : [{ t: at + shift, kind: 'comment', text: `${text} (${by})` }],
    ),
  ];
};
