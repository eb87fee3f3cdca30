import type { Interval } from '../../measure/index.ts';
import { formatInterval } from '../../words/index.ts';
import { escaped, figure, label, shape } from '../markup.ts';
import type { Series } from '../types.ts';
import { envelope, gapsOf } from './areas.ts';
import { type Axis, axisOf } from './axis.ts';
import { inner, PLOT } from './frame.ts';
import { staysOf, stretchesOf } from './trace-paths.ts';

/** One effect, drawn as a row of blocks on the time axis. */
export interface Strip {
  readonly name: string;
  readonly series: Series;
  readonly states: readonly string[];
  readonly unit: string;
  readonly changed?: Interval;
}

const changeMark = (changed: Interval, time: Axis, y: number): string => {
  const low = time.at(Math.max(changed.low, time.from));
  const high = time.at(Math.min(changed.high, time.to));
  const inside = high >= time.at(time.from) && low <= time.at(time.to);
  if (!inside) return '';
  const words = label(PLOT.right + 15, y + PLOT.strip / 2 + 4, formatInterval(changed, 's'), {
    class: 'tw-name',
  });
  const edges = shape('path', {
    d: `M${figure(low)} ${y + 1}v${PLOT.strip - 2}M${figure(Math.max(high, low + 2))} ${y + 1}v${PLOT.strip - 2}`,
    class: 'tw-change',
  });
  return inner(edges) + words;
};

/** One effect as a row of blocks: the resting state thin, any other full; the doubt of a change hatched. */
export const stripOf = (
  strip: Strip,
  index: number,
  top: number,
  time: Axis,
  end: number,
  key: string,
): string => {
  const y = top + index * (PLOT.strip + PLOT.gap);
  const { stretches } = stretchesOf(strip.series.points, end);
  const all = stretches.flat();
  const measured = strip.states.length === 0;
  const highest = Math.max(...all.map((one) => one.high), 1e-9);
  const lowest = Math.min(...all.map((one) => one.low), 0);
  const blocks = stretches.flatMap((stretch) => {
    if (measured) {
      const axis = axisOf(lowest, highest, y + PLOT.strip - 2, y + 3, 2);
      return [envelope(stretch, time, axis)];
    }
    return staysOf(stretch).map((stay, at, stays) => {
      const next = stays[at + 1];
      const x = time.at(stay.from);
      const width = Math.max(1, time.at(stay.to) - x);
      const initial = all[0]?.low === stay.low;
      const word = stay.low === stay.high ? (strip.states[stay.low] ?? String(stay.low)) : '?';
      const fits = width > word.length * 7 + 8;
      const doubt =
        next === undefined
          ? ''
          : shape('rect', {
              x: time.at(stay.to),
              y: y + 2,
              width: Math.max(2, time.at(next.from) - time.at(stay.to)),
              height: PLOT.strip - 4,
              fill: `url(#${key}-doubt)`,
              class: 'tw-doubt',
            });
      return (
        shape(
          'rect',
          { x, y: y + 4, width, height: PLOT.strip - 8, class: initial ? 'tw-rest' : 'tw-acted' },
          shape('title', {}, escaped(word)),
        ) +
        doubt +
        (fits
          ? label(x + 5, y + PLOT.strip / 2 + 4, word, {
              class: initial ? 'tw-state' : 'tw-state tw-state-acted',
            })
          : '')
      );
    });
  });
  const mark = strip.changed ? changeMark(strip.changed, time, y) : '';
  const none =
    all.length === 0
      ? label(PLOT.left + 6, y + PLOT.strip / 2 + 4, 'not recorded', { class: 'tw-tick' })
      : '';
  return (
    label(PLOT.left - 8, y + PLOT.strip / 2 + 4, strip.name, {
      class: 'tw-strip-name',
      'text-anchor': 'end',
    }) +
    inner(blocks.join('') + gapsOf(strip.series, end, time, y + 2, y + PLOT.strip - 2, key)) +
    mark +
    none
  );
};
