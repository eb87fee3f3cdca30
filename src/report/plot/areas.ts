import { TERMS } from '../../words/index.ts';
import { escaped, figure, label, shape } from '../markup.ts';
import type { Series } from '../types.ts';
import type { Axis } from './axis.ts';
import { type Stretch, stretchesOf } from './trace-paths.ts';

interface Corner {
  readonly x: number;
  readonly y: number;
}

/** Of a signal that stands still the first and the last corner say it all. */
const cornersOf = (all: readonly Corner[]): readonly Corner[] =>
  all.filter(({ y }, index) => {
    const [before, after] = [all[index - 1], all[index + 1]];
    return (
      before === undefined ||
      after === undefined ||
      figure(before.y) !== figure(y) ||
      figure(after.y) !== figure(y)
    );
  });

/** The signal as an area between its bounds: what it can have been. */
export const envelope = (stretch: Stretch, time: Axis, level: Axis): string => {
  const written = ({ x, y }: Corner): string => `${figure(x)},${figure(y)}`;
  const place = (t: number, value: number): Corner => ({ x: time.at(t), y: level.at(value) });
  const upper = cornersOf(stretch.map(({ t, high }) => place(t, high))).map(written);
  const lower = cornersOf(stretch.map(({ t, low }) => place(t, low)))
    .map(written)
    .reverse();
  return shape('polygon', { points: [...upper, ...lower].join(' '), class: 'tw-signal' });
};

/** Where nothing was read: hatched, with the reason as a title. */
export const gapsOf = (
  series: Series,
  end: number,
  time: Axis,
  top: number,
  bottom: number,
  key: string,
): string =>
  stretchesOf(series.points, end)
    .gaps.map(({ from, to, why }) => {
      const x = time.at(Math.max(from, time.from));
      const width = Math.max(2, time.at(Math.min(to, time.to)) - x);
      const title = shape('title', {}, escaped(`no reading: ${TERMS.absences[why]}`));
      const word =
        width > 50
          ? label(x + width / 2, top + 14, 'no reading', { class: 'tw-tick', 'text-anchor': 'middle' })
          : '';
      return (
        shape(
          'rect',
          { x, y: top, width, height: bottom - top, fill: `url(#${key}-gap)`, class: 'tw-gap' },
          title,
        ) + word
      );
    })
    .join('');
