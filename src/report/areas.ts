import { TERMS } from '../words/index.ts';
import type { Axis } from './axis.ts';
import { escaped, figure, label, shape } from './markup.ts';
import { type Stretch, stretchesOf } from './trace-paths.ts';
import type { Series } from './types.ts';

/** The signal as an area between its bounds: what it can have been. */
export const envelope = (stretch: Stretch, time: Axis, level: Axis): string => {
  const corner = (t: number, value: number): string => `${figure(time.at(t))},${figure(level.at(value))}`;
  const upper = stretch.map(({ t, high }) => corner(t, high));
  const lower = stretch.toReversed().map(({ t, low }) => corner(t, low));
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
      const title = shape('title', {}, escaped(`no reading: ${TERMS.en.absences[why]}`));
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
