/** What is left of level and delay, against what is allowed: the picture is true to its numbers. */
import { expect, test } from 'vitest';
import {
  htmlReport,
  type InterlockReport,
  subjectsOf,
  type WindowReport,
} from '../../../src/report/index.ts';
import { regionPlot } from '../../../src/report/plot/region-plot.ts';
import { byRule } from './kinds.ts';
import { SAMPLE } from './sample.ts';
import { readMarkup, type Seen } from './well-formed.ts';

const drawn = (report: WindowReport = SAMPLE) => regionPlot(subjectsOf(report)[0]!, 'k')!;

const withVerdict = (more: Partial<InterlockReport['verdict']>): WindowReport => {
  const [first, ...rest] = SAMPLE.interlocks;
  return { ...SAMPLE, interlocks: [{ ...first!, verdict: { ...first!.verdict, ...more } }, ...rest] };
};

const number = (seen: Seen | undefined, name: string): number => Number(seen?.attributes[name]);
const of = (svg: string, css: string): Seen[] =>
  readMarkup(svg).filter(({ attributes }) => attributes['class'] === css);
/** The frame in the plot; the other one is the sample of the legend. */
const frame = (svg: string): Seen => of(svg, 'tw-allowed')[0]!;
const corners = (svg: string): number[][] =>
  (of(svg, 'tw-left').find(({ name }) => name === 'polygon')?.attributes['points'] ?? '')
    .split(' ')
    .map((one) => one.split(',').map(Number));

/** From seconds and rpm to places, by the frame: 0.8 … 1.2 s, and 0.805 × 96.05 … 0.835 × 95.95 rpm. */
const placing = (svg: string) => {
  const box = frame(svg);
  const [low, high] = [0.805 * 96.05, 0.835 * 95.95];
  return {
    x: (seconds: number) => number(box, 'x') + ((seconds - 0.8) / 0.4) * number(box, 'width'),
    y: (rpm: number) =>
      number(box, 'y') + number(box, 'height') - ((rpm - low) / (high - low)) * number(box, 'height'),
  };
};

test('the pairs that are left stand in the picture where their levels and delays say', () => {
  const { svg } = drawn();
  const { x, y } = placing(svg);
  const found = corners(svg);
  const xs = found.map(([one]) => one!);
  const ys = found.map(([, one]) => one!);
  expect(Math.min(...xs)).toBeCloseTo(x(0.86), 0);
  expect(Math.max(...xs)).toBeCloseTo(x(1.14), 0);
  expect(Math.min(...ys)).toBeCloseTo(y(79.149), 0);
  expect(Math.max(...ys)).toBeCloseTo(y(78.351), 0);
  expect(found).toHaveLength(12);
  // Along the upper levels of the three cells, and back along the lower ones.
  const along = [
    [0.86, 78.9],
    [0.9, 78.9],
    [0.9, 79],
    [1.1, 79],
    [1.1, 79.149],
    [1.14, 79.149],
    [1.14, 78.6],
    [1.1, 78.6],
    [1.1, 78.5],
    [0.9, 78.5],
    [0.9, 78.351],
    [0.86, 78.351],
  ] as const;
  along.forEach(([seconds, rpm], index) => {
    expect(found[index]?.[0]).toBeCloseTo(x(seconds), 0);
    expect(found[index]?.[1]).toBeCloseTo(y(rpm), 0);
  });
});

test('the frame is as narrow as the doubt of normal makes it, and the limit lies below it', () => {
  const { svg } = drawn();
  const { y } = placing(svg);
  // 76.8 rpm is 80 % of the nameplate 96 rpm.
  expect(number(of(svg, 'tw-limit')[0], 'y1')).toBeCloseTo(y(76.8), 0);
  expect(number(of(svg, 'tw-forbidden')[0], 'y')).toBeCloseTo(y(76.8), 0);
});

test('levels in percent of normal stand on the right, where the set point is one', () => {
  const { svg } = drawn();
  expect(svg).toContain('% of normal');
  const { y } = placing(svg);
  const tick = /<text x="429" y="([\d.]+)" class="tw-tick">82<\/text>/.exec(svg);
  // 82 % of 96 rpm, the middle of normal.
  expect(Number(tick?.[1]) - 4).toBeCloseTo(y(78.72), 0);
});

test('it is told to those who cannot see it, and what is left is told apart by pattern', () => {
  const { svg, caption } = drawn();
  const [picture] = readMarkup(svg);
  for (const name of ['aria-labelledby', 'aria-describedby'])
    expect(svg).toContain(`id="${picture?.attributes[name]}"`);
  expect(svg).toContain('<title id="k-title">Level and delay of E1.underspeed-stop</title>');
  expect(svg).toMatch(/What is left: levels 78\.35 … 79\.15 rpm, delays 0\.86 … 1\.14 s\./);
  expect(svg).toMatch(/Frame: levels 77\.32 … 80\.12 rpm, delays 0\.8 … 1\.2 s\. Limit: 76\.8 rpm\./);
  const [left, allowed] = ['tw-left-ground', 'tw-band'].map((css) => of(svg, css)[0]?.attributes['fill']);
  expect(left).not.toBe(allowed);
  expect(caption).toBe(
    'What is left of level and delay after 2 trials. It must lie wholly inside the frame.',
  );
});

test('a last cell without an upper bound is said to go on', () => {
  const last = { delay: { low: 4.9, high: 5 }, level: { low: 79, high: 79.4 } };
  const region = [...SAMPLE.interlocks[0]!.verdict.region!, last];
  const { delay: _, ...rest } = withVerdict({ region }).interlocks[0]!.verdict;
  const open = { ...SAMPLE, interlocks: [{ ...SAMPLE.interlocks[0]!, verdict: rest }] };
  const { svg, caption } = drawn(open);
  expect(of(svg, 'tw-beyond')).toHaveLength(1);
  expect(svg).toContain('0.8 … 5.0 s and longer');
  expect(caption).toContain('Delays longer than 5 s are not excluded');
  expect(of(svg, 'tw-left').filter(({ name }) => name === 'polygon')).toHaveLength(2);
  expect(of(drawn().svg, 'tw-beyond')).toHaveLength(0);
});

test('trials in doubt do not count, and after an adjustment only those that follow do', () => {
  const doubt = { code: 'stop-by-hand', params: { signal: 'E1.stop' } };
  const [first, second] = SAMPLE.interlocks[0]!.verdict.trials;
  const doubted = {
    ...first!,
    aspects: [{ name: 'attribution', outcome: 'inconclusive' as const, reason: doubt }],
  };
  expect(drawn(withVerdict({ trials: [doubted, second!] })).caption).toContain(
    'after 1 of 2 trials; the others are in doubt.',
  );
  expect(drawn(withVerdict({ asLeft: 'pass' })).caption).toContain('since the last adjustment');
});

test('by another decision rule the frame is no longer the word', () => {
  const { caption } = drawn(byRule({ rule: 'simple' }));
  expect(caption).toContain('simple acceptance: the best estimate decides');
  expect(caption).not.toContain('wholly inside');
});

test('nothing is drawn without a level, a delay, or a pair that is left', () => {
  expect(subjectsOf(SAMPLE).map((one) => regionPlot(one, 'k') !== undefined)).toEqual([
    true,
    false,
    false,
    false,
    false,
  ]);
  expect(regionPlot(subjectsOf(withVerdict({ region: [] }))[0]!, 'k')).toBeUndefined();
  expect(htmlReport(withVerdict({ region: [] }))).not.toContain('Level and delay together');
  // A contact is there or not: it has delays, but no level that could be drawn.
  const contact = SAMPLE.interlocks[3]!;
  const region = [{ delay: { low: 1.9, high: 2.1 }, level: { low: -1, high: 1 } }];
  const verdict = { ...contact.verdict, region };
  expect(
    regionPlot(subjectsOf({ ...SAMPLE, interlocks: [{ ...contact, verdict }] })[0]!, 'k'),
  ).toBeUndefined();
});

test('a single exact pair, and pairs of no extent, draw without a NaN', () => {
  const point = { delay: { low: 1, high: 1 }, level: { low: 78.7, high: 78.7 } };
  const { svg } = drawn(withVerdict({ region: [point] }));
  readMarkup(svg);
  expect(svg).not.toMatch(/NaN|Infinity|undefined/);
});
