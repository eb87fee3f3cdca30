import { formatBand, formatInterval } from '../../words/index.ts';
import type { Subject } from '../facts.ts';
import { label, shape } from '../markup.ts';
import type { Drawn } from './region.ts';

const SAMPLE = { width: 22, height: 14 } as const;

type Entry = readonly [sample: (y: number) => string, lines: readonly string[]];

const allowedSample = (x: number, y: number, key: string): string =>
  shape('rect', { x, y, ...SAMPLE, fill: `url(#${key}-band)`, class: 'tw-band' }) +
  shape('rect', { x, y, ...SAMPLE, class: 'tw-allowed' });

const leftSample = (x: number, y: number, key: string): string =>
  shape('rect', { x, y, ...SAMPLE, fill: `url(#${key}-doubt)`, class: 'tw-left-ground' }) +
  shape('rect', { x, y, ...SAMPLE, class: 'tw-left' });

const declaredSample = (x: number, y: number): string =>
  shape('path', { d: `M${x + 5} ${y + 7}h12M${x + 11} ${y + 1}v12`, class: 'tw-declared' });

const limitSample = (x: number, y: number, key: string): string =>
  shape('line', { x1: x, y1: y + 4, x2: x + SAMPLE.width, y2: y + 4, class: 'tw-limit' }) +
  shape('rect', {
    x,
    y: y + 5,
    width: SAMPLE.width,
    height: 9,
    fill: `url(#${key}-gap)`,
    class: 'tw-forbidden',
  });

/** What the marks of a region mean, told beside it with a sample of each, from (x, top) on. */
export const legend = (subject: Subject, drawn: Drawn, key: string, x: number, top: number): string => {
  const { unit } = subject;
  const longer = drawn.open ? ' and longer' : '';
  const { limit, frame } = drawn;
  const limits: readonly Entry[] =
    limit === undefined
      ? []
      : [[(y) => limitSample(x, y, key), [`limit ${formatBand(limit, unit)}; ruled: beyond it`]]];
  const entries: readonly Entry[] = [
    [
      (y) => allowedSample(x, y, key),
      ['frame: what is allowed', formatBand(frame.level, unit), formatBand(frame.delay, 's')],
    ],
    [
      (y) => leftSample(x, y, key),
      ['what is left', formatInterval(drawn.level, unit), `${formatInterval(drawn.delay, 's')}${longer}`],
    ],
    [(y) => declaredSample(x, y), ['set point and delay as declared']],
    ...limits,
  ];
  let next = top;
  return entries
    .map(([sample, lines]) => {
      const at = next;
      next += lines.length * 17 + 15;
      const told = lines.map((line, index) =>
        label(x + 32, at + 11 + index * 17, line, { class: index === 0 ? 'tw-axis-name' : 'tw-name' }),
      );
      return sample(at) + told.join('');
    })
    .join('');
};
