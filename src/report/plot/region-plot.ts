import { type Interval, SECOND } from '../../measure/index.ts';
import { unitShown } from '../../words/index.ts';
import type { Subject } from '../facts.ts';
import { isShare } from '../levels.ts';
import { escaped, figure, label, shape } from '../markup.ts';
import { type Axis, axisOf } from './axis.ts';
import { hatches } from './frame.ts';
import { type Cell, captionOf, type Drawn, described, drawnOf, finite, hull } from './region.ts';
import { legend } from './region-legend.ts';

/** Places on the paper, in its own units. */
const PAPER = { width: 760, left: 62, right: 420, top: 30, bottom: 262, legend: 492 } as const;

const middle = ({ low, high }: Interval): number => (low + high) / 2;

const widened = ({ low, high }: Interval, share: number): Interval => {
  const spare = high > low ? (high - low) * share : Math.max(1, Math.abs(high) * 0.05);
  return { low: low - spare, high: high + spare };
};

/** Cells that touch, as one shape: along the upper levels, and back along the lower ones. */
const shapesOf = (cells: readonly Cell[]): readonly (readonly Cell[])[] => {
  const found: Cell[][] = [];
  for (const cell of cells) {
    const run = found.at(-1);
    const last = run?.at(-1);
    if (run !== undefined && last !== undefined && cell.delay.low <= last.delay.high) run.push(cell);
    else found.push([cell]);
  }
  return found;
};

const outlineOf = (run: readonly Cell[], across: Axis, up: Axis): string => {
  const corner = (x: number, y: number): string => `${figure(across.at(x))},${figure(up.at(y))}`;
  const upper = run.flatMap(({ delay, level }) => [
    corner(delay.low, level.high),
    corner(delay.high, level.high),
  ]);
  const lower = run
    .toReversed()
    .flatMap(({ delay, level }) => [corner(delay.high, level.low), corner(delay.low, level.low)]);
  return shape('polygon', { points: [...upper, ...lower].join(' '), class: 'tw-left' });
};

const backing = (run: readonly Cell[], across: Axis, up: Axis, key: string): string =>
  outlineOf(run, across, up).replace('class="tw-left"', `class="tw-left-ground" fill="url(#${key}-doubt)"`);

/** Beyond the last cell the delay has no upper bound: an arrow out of the picture. */
const arrow = (drawn: Drawn, across: Axis, up: Axis): string => {
  const last = drawn.cells.at(-1);
  if (!drawn.open || last === undefined) return '';
  const y = up.at(middle(last.level));
  const x = across.at(last.delay.high);
  return shape('path', {
    d: `M${figure(x)} ${figure(y)}h22m-7 -5l7 5l-7 5`,
    class: 'tw-beyond',
  });
};

const axes = (subject: Subject, across: Axis, up: Axis): string => {
  const { left, right, top, bottom } = PAPER;
  const { unit, bands } = subject;
  const times = across.ticks.map((tick) => {
    const x = across.at(tick);
    return (
      shape('line', { x1: x, y1: top, x2: x, y2: bottom, class: 'tw-grid' }) +
      label(x, bottom + 16, across.tickText(tick), { class: 'tw-tick', 'text-anchor': 'middle' })
    );
  });
  const levels = up.ticks.map((tick) => {
    const y = up.at(tick);
    return (
      shape('line', { x1: left, y1: y, x2: right, y2: y, class: 'tw-grid' }) +
      label(left - 8, y + 4, up.tickText(tick), { class: 'tw-tick', 'text-anchor': 'end' })
    );
  });
  const names =
    label(left, top - 12, `level [${unitShown(unit)}]`, { class: 'tw-axis-name' }) +
    label(right, bottom + 34, 'delay [s]', { class: 'tw-axis-name', 'text-anchor': 'end' });
  return times.join('') + levels.join('') + names + shares(subject, up, bands.normal);
};

/** On the right the same levels in percent of normal. */
const shares = (subject: Subject, up: Axis, normal: Interval | undefined): string => {
  if (!isShare(subject.interlock) || !finite(normal) || middle(normal) <= 0) return '';
  const one = middle(normal) / 100;
  const { right, top, bottom } = PAPER;
  const share = axisOf(up.from / one, up.to / one, bottom, top, 6);
  const ticks = share.ticks.map((tick) => {
    const y = share.at(tick);
    return (
      shape('line', { x1: right, y1: y, x2: right + 5, y2: y, class: 'tw-tick-line' }) +
      label(right + 9, y + 4, share.tickText(tick), { class: 'tw-tick' })
    );
  });
  return ticks.join('') + label(right + 9, top - 12, '% of normal', { class: 'tw-axis-name' });
};

const limitOf = (subject: Subject, drawn: Drawn, up: Axis, key: string): string => {
  const { limit } = drawn;
  if (limit === undefined) return '';
  const { left, right, top, bottom } = PAPER;
  const above = subject.bands.limitSide === 'no-higher-than';
  const y = up.at(above ? limit.low : limit.high);
  return (
    shape('rect', {
      x: left,
      y: above ? top : y,
      width: right - left,
      height: Math.max(0, above ? y - top : bottom - y),
      fill: `url(#${key}-gap)`,
      class: 'tw-forbidden',
    }) + shape('line', { x1: left, y1: y, x2: right, y2: y, class: 'tw-limit' })
  );
};

/**
 * Every pair of level and delay that explains the trials, against the frame in which they must lie, with a caption.
 * Undefined where the cause has no level, no delay, or nothing was found out of them. `key` makes the names inside it
 * unique on a page.
 */
export const regionPlot = (
  subject: Subject,
  key: string,
): { readonly svg: string; readonly caption: string } | undefined => {
  const drawn = drawnOf(subject);
  const { setPoint } = subject.bands;
  const { delay: declared } = subject.interlock;
  if (drawn === undefined || declared === undefined || !finite(setPoint)) return undefined;
  const { left, right, top, bottom } = PAPER;
  const time = widened(hull([drawn.frame.delay, drawn.delay]), 0.1);
  const across = axisOf(Math.max(0, time.low), time.high, left, right, 7);
  const value = widened(hull([drawn.frame.level, drawn.level, ...(drawn.limit ? [drawn.limit] : [])]), 0.1);
  const up = axisOf(value.low, value.high, bottom, top, 7);
  const box = {
    x: across.at(drawn.frame.delay.low),
    y: up.at(drawn.frame.level.high),
    width: across.at(drawn.frame.delay.high) - across.at(drawn.frame.delay.low),
    height: Math.max(0, up.at(drawn.frame.level.low) - up.at(drawn.frame.level.high)),
  };
  const runs = shapesOf(drawn.cells);
  const svg = shape(
    'svg',
    {
      viewBox: `0 0 ${PAPER.width} ${bottom + 42}`,
      class: 'tw-plot tw-region',
      role: 'img',
      'aria-labelledby': `${key}-title`,
      'aria-describedby': `${key}-desc`,
    },
    shape('title', { id: `${key}-title` }, escaped(`Level and delay of ${subject.interlock.name}`)) +
      shape('desc', { id: `${key}-desc` }, escaped(described(subject, drawn))) +
      hatches(key) +
      axes(subject, across, up) +
      limitOf(subject, drawn, up, key) +
      shape('rect', { ...box, fill: `url(#${key}-band)`, class: 'tw-band' }) +
      runs.map((run) => backing(run, across, up, key)).join('') +
      shape('rect', { ...box, class: 'tw-allowed' }) +
      runs.map((run) => outlineOf(run, across, up)).join('') +
      arrow(drawn, across, up) +
      shape('path', {
        d: `M${figure(across.at(declared.time / SECOND) - 6)} ${figure(up.at(middle(setPoint)))}h12m-6 -6v12`,
        class: 'tw-declared',
      }) +
      shape('rect', { x: left, y: top, width: right - left, height: bottom - top, class: 'tw-frame' }) +
      legend(subject, drawn, key, PAPER.legend, top),
  );
  return { svg, caption: captionOf(subject, drawn) };
};
