import { label, shape } from '../markup.ts';
import type { Axis } from './axis.ts';

/** Places on the paper of a plot, in its own units. */
export const PLOT = { width: 960, left: 180, right: 735, top: 26, level: 250, strip: 26, gap: 8 } as const;

/** The hatches of a plot; `key` keeps the names of two plots on one page apart. */
export const hatches = (key: string): string =>
  shape(
    'defs',
    {},
    ['band', 'doubt', 'gap']
      .map((name, index) =>
        shape(
          'pattern',
          {
            id: `${key}-${name}`,
            width: 6,
            height: 6,
            patternUnits: 'userSpaceOnUse',
            patternTransform: `rotate(${[45, -45, 0][index] ?? 0})`,
          },
          shape('rect', { width: 6, height: 6, class: `tw-${name}-ground` }) +
            shape('line', { x1: 0, y1: 0, x2: 0, y2: 6, class: `tw-${name}-line` }),
        ),
      )
      .join(''),
  );

/** What is stretched along the time when a drawing is zoomed. */
export const inner = (markup: string): string =>
  markup === '' ? '' : shape('g', { class: 'tw-inner' }, markup);

/** Seconds along the bottom; the last of its parts is the name of the axis. */
export const timeAxis = (axis: Axis, top: number, bottom: number): string =>
  shape(
    'g',
    { class: 'tw-time', 'data-top': top, 'data-bottom': bottom },
    axis.ticks
      .map((tick) => {
        const x = axis.at(tick);
        return (
          shape('line', { x1: x, y1: top, x2: x, y2: bottom, class: 'tw-grid' }) +
          label(x, bottom + 16, axis.tickText(tick), { class: 'tw-tick', 'text-anchor': 'middle' })
        );
      })
      .join('') +
      label(PLOT.right, bottom + 34, 's after the window opened', {
        class: 'tw-tick',
        'text-anchor': 'end',
      }),
  );
