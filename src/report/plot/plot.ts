import type { TrialVerdict } from '../../judge/index.ts';
import type { Interval } from '../../measure/index.ts';
import { SECOND } from '../../measure/index.ts';
import { formatInterval, unitShown } from '../../words/index.ts';
import type { Subject } from '../facts.ts';
import type { Bands } from '../levels.ts';
import { figure, label, shape } from '../markup.ts';
import type { TrialTrace, WindowReport } from '../types.ts';
import { envelope, gapsOf } from './areas.ts';
import { type Axis, axisOf, spread } from './axis.ts';
import { hatches, inner, PLOT, timeAxis } from './frame.ts';
import { type Strip, stripOf } from './strips.ts';
import { stretchesOf } from './trace-paths.ts';

const HEIGHT = PLOT.level - PLOT.top;

const finite = (interval: Interval | undefined): interval is Interval =>
  interval !== undefined && Number.isFinite(interval.low) && Number.isFinite(interval.high);

const levelRange = (trace: TrialTrace, bands: Bands, trip: Interval | undefined): Interval => {
  const values = trace.cause.points.flatMap((point) => ('gap' in point ? [] : [point.low, point.high]));
  for (const one of [bands.allowed, bands.limit, bands.normal, bands.setPoint, bands.near, bands.far, trip])
    if (finite(one)) values.push(one.low, one.high);
  if (values.length === 0) return { low: 0, high: 1 };
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  const spare = high > low ? (high - low) * 0.08 : Math.max(1, Math.abs(high) * 0.05);
  return { low: low - spare, high: high + spare };
};

interface Line {
  readonly value: Interval;
  readonly name: string;
  readonly css: string;
}

const linesOf = (bands: Bands, unit: string): readonly Line[] => {
  const line = (value: Interval | undefined, name: string, css: string): Line[] =>
    finite(value) ? [{ value, name: `${name} ${formatInterval(value, unit)}`, css }] : [];
  return [
    ...line(bands.normal, 'normal', 'tw-normal'),
    ...line(bands.setPoint, 'set point', 'tw-set-point'),
    ...line(bands.near, 'nearer edge', 'tw-set-point'),
    ...line(bands.far, 'farther edge', 'tw-set-point'),
    ...line(bands.limit, 'limit', 'tw-limit'),
  ];
};

const levels = (bands: Bands, trip: Interval | undefined, unit: string, level: Axis, key: string): string => {
  const lines: readonly Line[] = [
    ...linesOf(bands, unit),
    ...(finite(trip) ? [{ value: trip, name: `tripped ${formatInterval(trip, unit)}`, css: 'tw-trip' }] : []),
  ];
  const middles = lines.map(({ value }) => level.at((value.low + value.high) / 2));
  const places = spread(middles, 15, PLOT.top + 6, PLOT.level - 2);
  const width = PLOT.right - PLOT.left;
  const allowed = bands.allowed;
  const band = finite(allowed)
    ? shape('rect', {
        x: PLOT.left,
        y: level.at(allowed.high),
        width,
        height: level.at(allowed.low) - level.at(allowed.high),
        fill: `url(#${key}-band)`,
        class: 'tw-band',
      })
    : '';
  const tripped = finite(trip)
    ? shape('rect', {
        x: PLOT.left,
        y: level.at(trip.high),
        width,
        height: Math.max(1.5, level.at(trip.low) - level.at(trip.high)),
        class: 'tw-moment',
      })
    : '';
  const drawn = lines.map(({ value, name, css }, index) => {
    const y = middles[index] ?? 0;
    const place = places[index] ?? y;
    const mark =
      css === 'tw-trip'
        ? shape('path', {
            d: `M${PLOT.right - 4} ${figure(level.at(value.high))}h9v${figure(Math.max(1.5, level.at(value.low) - level.at(value.high)))}h-9`,
            class: 'tw-trip',
          })
        : shape('line', { x1: PLOT.left, y1: y, x2: PLOT.right, y2: y, class: css });
    return (
      mark +
      shape('path', {
        d: `M${PLOT.right + (css === 'tw-trip' ? 5 : 0)} ${figure(y)}L${PLOT.right + 12} ${figure(place)}`,
        class: 'tw-lead',
      }) +
      label(PLOT.right + 15, place + 4, name, { class: `tw-name ${css}-name` })
    );
  });
  return band + tripped + drawn.join('');
};

const valueAxis = (level: Axis, name: string, unit: string): string =>
  level.ticks
    .map((tick) => {
      const y = level.at(tick);
      return (
        shape('line', { x1: PLOT.left, y1: y, x2: PLOT.right, y2: y, class: 'tw-grid' }) +
        label(PLOT.left - 8, y + 4, level.tickText(tick), { class: 'tw-tick', 'text-anchor': 'end' })
      );
    })
    .join('') + label(PLOT.left, PLOT.top - 10, `${name} [${unitShown(unit)}]`, { class: 'tw-axis-name' });

const changedAt = (
  report: WindowReport,
  trial: TrialVerdict | undefined,
  name: string,
): Interval | undefined => {
  const changed = trial?.effects.find((one) => one.name === name)?.changed;
  if (changed === undefined) return undefined;
  const seconds = {
    low: (changed.earliest - report.opened) / SECOND,
    high: (changed.latest - report.opened) / SECOND,
  };
  return finite(seconds) ? seconds : undefined;
};

const stripsOf = (
  report: WindowReport,
  subject: Subject,
  trace: TrialTrace,
  trial: TrialVerdict | undefined,
): Strip[] => {
  const effects = subject.interlock.effects.map((effect, index): Strip => {
    const def = report.book.signals[effect.signal];
    const changed = changedAt(report, trial, effect.name);
    return {
      name: effect.name,
      series: trace.effects[index] ?? { signal: effect.signal, points: [] },
      states: def?.states ?? [],
      unit: def?.unit ?? '',
      ...(changed && { changed }),
    };
  });
  if (subject.unit !== '') return effects;
  const states = report.book.signals[trace.cause.signal]?.states ?? [];
  return [{ name: subject.causeName, series: trace.cause, states, unit: '' }, ...effects];
};

const described = (subject: Subject, trace: TrialTrace, strips: readonly Strip[]): string => {
  const came = strips.flatMap(({ name, changed }) =>
    changed ? [`${name} changed at ${formatInterval(changed, 's')}`] : [],
  );
  const trip = subject.report.verdict.tripPoint;
  const tripped = trip ? ` Tripped at ${formatInterval(trip, subject.unit)}.` : '';
  return `${subject.occasion === 'demand' ? 'Demand' : 'Trial'} ${trace.trial} of ${subject.interlock.name}: ${subject.causeName} over time.${tripped} ${came.join('; ')}.`;
};

/**
 * One trial as an SVG: the cause as an area between its bounds with normal, set point, band and limit; the effects as
 * strips beneath on the same time axis, changes hatched where their time is in doubt, gaps shown. `key` makes the names
 * inside it unique on a page.
 */
export const plotTrial = (report: WindowReport, subject: Subject, trace: TrialTrace, key: string): string => {
  const trial = subject.report.verdict.trials.find((one) => one.trial === trace.trial);
  const measured = subject.unit !== '';
  const strips = stripsOf(report, subject, trace, trial);
  const time = axisOf(trace.from, trace.to, PLOT.left, PLOT.right, 10);
  const stripsTop = measured ? PLOT.level + 14 : PLOT.top;
  const bottom = stripsTop + strips.length * (PLOT.strip + PLOT.gap);
  const trip = finite(trial?.tripPoint) ? trial.tripPoint : undefined;
  const range = levelRange(trace, subject.bands, trip);
  const level = axisOf(range.low, range.high, PLOT.level, PLOT.top, Math.floor(HEIGHT / 34));
  const first = strips.find(({ changed }) => changed !== undefined)?.changed;
  const column = first
    ? shape('rect', {
        x: time.at(Math.max(first.low, time.from)),
        y: PLOT.top,
        width: Math.max(2, time.at(Math.min(first.high, time.to)) - time.at(Math.max(first.low, time.from))),
        height: bottom - PLOT.top,
        class: 'tw-moment',
      })
    : '';
  const { stretches } = stretchesOf(trace.cause.points, trace.to);
  const plane = measured
    ? valueAxis(level, subject.causeName, subject.unit) +
      inner(
        gapsOf(trace.cause, trace.to, time, PLOT.top, PLOT.level, key) +
          stretches.map((stretch) => envelope(stretch, time, level)).join(''),
      ) +
      levels(subject.bands, trip, subject.unit, level, key) +
      shape('rect', {
        x: PLOT.left,
        y: PLOT.top,
        width: PLOT.right - PLOT.left,
        height: HEIGHT,
        class: 'tw-frame',
      })
    : '';
  const rows = strips.map((strip, index) => stripOf(strip, index, stripsTop, time, trace.to, key)).join('');
  const description = described(subject, trace, strips);
  return shape(
    'svg',
    {
      viewBox: `0 0 ${PLOT.width} ${bottom + 42}`,
      class: 'tw-plot',
      role: 'img',
      'aria-label': description,
      'data-from': String(time.from),
      'data-to': String(time.to),
      'data-left': PLOT.left,
      'data-right': PLOT.right,
    },
    hatches(key) + timeAxis(time, PLOT.top, bottom) + inner(column) + plane + rows,
  );
};
