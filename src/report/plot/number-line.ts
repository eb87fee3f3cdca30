import type { Interval } from '../../measure/index.ts';
import { formatBand, formatInterval } from '../../words/index.ts';
import type { Subject } from '../facts.ts';
import { figure, label, shape } from '../markup.ts';
import { axisOf } from './axis.ts';
import { hatches } from './frame.ts';

const LINE = { width: 620, left: 30, right: 590, axis: 66 } as const;

const finite = (one: Interval | undefined): one is Interval =>
  one !== undefined && Number.isFinite(one.low) && Number.isFinite(one.high);

/**
 * Where it tripped: the measured interval above a line that carries set point, band and limit, in the unit of the
 * cause. '' where the cause has no trip point.
 */
export const numberLine = (subject: Subject, key: string): string => {
  const { setPoint, allowed, limit, limitSide } = subject.bands;
  const trip = subject.report.verdict.tripPoint;
  if (!finite(setPoint) || !finite(allowed)) return '';
  const known = [setPoint, allowed, ...(finite(limit) ? [limit] : []), ...(finite(trip) ? [trip] : [])];
  const low = Math.min(...known.map((one) => one.low));
  const high = Math.max(...known.map((one) => one.high));
  const spare = Math.max((high - low) * 0.15, 1e-6);
  const axis = axisOf(low - spare, high + spare, LINE.left, LINE.right, 8);
  const { unit } = subject;
  const box = (of: Interval, y: number, height: number, css: string, fill?: string): string =>
    shape('rect', {
      x: axis.at(of.low),
      y,
      width: Math.max(2, axis.at(of.high) - axis.at(of.low)),
      height,
      class: css,
      ...(fill && { fill }),
    });
  const middle = (of: Interval): number => axis.at((of.low + of.high) / 2);
  const beyond = (bound: Interval): Interval =>
    limitSide === 'no-higher-than' ? { low: bound.high, high: axis.to } : { low: axis.from, high: bound.low };
  const limits = finite(limit)
    ? box(beyond(limit), LINE.axis - 10, 20, 'tw-forbidden', `url(#${key}-gap)`) +
      shape('line', {
        x1: middle(limit),
        y1: LINE.axis - 22,
        x2: middle(limit),
        y2: LINE.axis + 12,
        class: 'tw-limit',
      }) +
      label(middle(limit), LINE.axis + 58, `limit ${formatBand(limit, unit)}`, {
        class: 'tw-name',
        'text-anchor': anchorAt(middle(limit)),
      })
    : '';
  const measured = finite(trip)
    ? shape('path', {
        d: `M${figure(axis.at(trip.low))} 20v16M${figure(axis.at(trip.low))} 28H${figure(Math.max(axis.at(trip.high), axis.at(trip.low) + 2))}M${figure(Math.max(axis.at(trip.high), axis.at(trip.low) + 2))} 20v16`,
        class: 'tw-trip',
      }) +
      label(middle(trip), 13, `tripped ${formatInterval(trip, unit)}`, {
        class: 'tw-name tw-trip-name',
        'text-anchor': anchorAt(middle(trip)),
      })
    : label(LINE.left, 28, 'no trip point measured', { class: 'tw-name' });
  const ticks = axis.ticks
    .map(
      (tick) =>
        shape('line', {
          x1: axis.at(tick),
          y1: LINE.axis,
          x2: axis.at(tick),
          y2: LINE.axis + 12,
          class: 'tw-tick-line',
        }) +
        label(axis.at(tick), LINE.axis + 26, axis.tickText(tick), {
          class: 'tw-tick',
          'text-anchor': 'middle',
        }),
    )
    .join('');
  return shape(
    'svg',
    {
      viewBox: `0 0 ${LINE.width} ${LINE.axis + 66}`,
      class: 'tw-line',
      role: 'img',
      'aria-label': `Where it tripped: ${finite(trip) ? formatInterval(trip, unit) : 'not measured'}; allowed ${formatBand(allowed, unit)}.`,
    },
    hatches(key) +
      box(allowed, LINE.axis - 10, 20, 'tw-band', `url(#${key}-band)`) +
      limits +
      shape('line', { x1: LINE.left, y1: LINE.axis, x2: LINE.right, y2: LINE.axis, class: 'tw-axis' }) +
      ticks +
      shape('line', {
        x1: middle(setPoint),
        y1: LINE.axis - 16,
        x2: middle(setPoint),
        y2: LINE.axis + 12,
        class: 'tw-set-point',
      }) +
      label(
        middle(setPoint),
        LINE.axis + 43,
        `set point ${formatBand(setPoint, unit)}, band ${formatBand(allowed, unit)}`,
        { class: 'tw-name', 'text-anchor': anchorAt(middle(setPoint)) },
      ) +
      measured,
  );
};

/** Labels near an end of the line grow inward. */
const anchorAt = (x: number): string => {
  if (x < LINE.left + 150) return 'start';
  return x > LINE.right - 150 ? 'end' : 'middle';
};
