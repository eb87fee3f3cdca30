/** The page: well formed, alone, safe against what people write, and true to its numbers. */
import { expect, test } from 'vitest';
import {
  CAUTIONS,
  htmlReport,
  numberLine,
  plotTrial,
  reportJson,
  STYLE,
  subjectsOf,
  type WindowReport,
} from '../../../src/report/index.ts';
import { SAMPLE } from './sample.ts';
import { readMarkup, type Seen } from './well-formed.ts';

const PAGE = htmlReport(SAMPLE);
const subject = (index: number) => subjectsOf(SAMPLE)[index]!;
const number = (seen: Seen | undefined, name: string): number => Number(seen?.attributes[name]);

test('the reader of markup refuses what is not well formed', () => {
  for (const bad of ['<p>', '<p></q>', '<p class=x></p>', '<a', '<p>1 < 2</p>']) {
    expect(() => readMarkup(bad)).toThrow();
  }
});

test('the page is well formed, its ids are unique, and its links lead somewhere', () => {
  const seen = readMarkup(PAGE);
  const ids = seen.flatMap(({ attributes }) => attributes['id'] ?? []);
  expect(new Set(ids).size).toBe(ids.length);
  for (const { attributes } of seen) {
    for (const name of ['href', 'fill', 'aria-labelledby']) {
      const target = /#([\w-]+)/.exec(attributes[name] ?? '')?.[1];
      if (target !== undefined) expect(ids).toContain(target);
    }
    if (attributes['aria-labelledby']) expect(ids).toContain(attributes['aria-labelledby']);
  }
});

test('the page stands alone: no script, no other file, no network', () => {
  const seen = readMarkup(PAGE);
  for (const { name, attributes } of seen) {
    expect(['script', 'link', 'img', 'iframe', 'object', 'image', 'use']).not.toContain(name);
    for (const [key, value] of Object.entries(attributes)) {
      expect(key).not.toMatch(/^(on|src$|style$)/);
      if (key === 'href') expect(value).toMatch(/^#/);
    }
  }
  expect(PAGE).not.toMatch(/https?:|@import/);
  expect(STYLE).not.toMatch(/url\(|@import|</);
});

test('every verdict, caution and blank field is there', () => {
  for (const word of ['PASS', 'FAIL', 'INCONCLUSIVE', 'NOT TESTED']) expect(PAGE).toContain(word);
  for (const caution of CAUTIONS) expect(PAGE).toContain(caution.replaceAll("'", '&#39;'));
  expect(PAGE).toContain('taken as monotone');
  expect(PAGE).toMatch(/<dt>Witness<\/dt><dd><span class="tw-none">not stated/);
  expect(PAGE).toMatch(/<dt>Permit<\/dt><dd><span>P-118/);
  expect(PAGE).toContain('wind from the west');
  expect(PAGE).toContain('sensor: not proved');
  expect(PAGE).toContain(SAMPLE.checkpoint!.root);
});

test('what people wrote stays text', () => {
  const evil = `<script>alert(1)</script>"'&\u0000\u202e`;
  const wide = (one: WindowReport): WindowReport => ({
    ...one,
    window: evil,
    people: [{ name: evil, role: evil }],
    notes: [{ t: 1, by: evil, text: evil }],
    stated: { permit: evil, [evil]: evil },
    book: {
      ...one.book,
      title: evil,
      signals: one.book.signals.map((signal) => ({
        ...signal,
        name: signal.name + evil,
        unit: signal.unit === '' ? '' : evil,
        states: signal.states.map((state) => state + evil),
      })),
      machines: one.book.machines.map((machine) => ({ ...machine, title: evil })),
      interlocks: one.book.interlocks.map((interlock) => ({
        ...interlock,
        name: evil,
        title: evil,
        hazard: evil,
        effects: interlock.effects.map((effect) => ({ ...effect, name: effect.name + evil })) as never,
      })),
    },
  });
  const page = htmlReport(wide(SAMPLE));
  expect(readMarkup(page).map(({ name }) => name)).not.toContain('script');
  expect(page).not.toContain('\u0000');
  expect(page).not.toContain('\u202e');
  expect(page).toContain('&lt;script&gt;');
});

test('on the number line the set point lies inside its band and the trip point where it was measured', () => {
  const seen = readMarkup(numberLine(subject(0), 'k'));
  const band = seen.find(({ attributes }) => attributes['class'] === 'tw-band');
  const set = seen.find(({ attributes }) => attributes['class'] === 'tw-set-point');
  const limit = seen.find(({ attributes }) => attributes['class'] === 'tw-limit');
  const [left, width] = [number(band, 'x'), number(band, 'width')];
  expect(number(set, 'x1')).toBeGreaterThan(left);
  expect(number(set, 'x1')).toBeLessThan(left + width);
  expect(number(limit, 'x1')).toBeLessThan(left);
  const trip = seen.find(({ attributes }) => attributes['class'] === 'tw-trip')?.attributes['d'] ?? '';
  const ends = [...trip.matchAll(/M([\d.]+) 20/g)].map((one) => Number(one[1]));
  // Band: 0.805 × 95.95 … 0.835 × 96.05 as set point ± 0.015 × 95.95; trip 78.351 … 79.149 rpm, by proportion.
  const low = 0.82 * 95.95 - 0.015 * 95.95;
  const high = 0.82 * 96.05 + 0.015 * 95.95;
  const at = (value: number): number => left + ((value - low) / (high - low)) * width;
  expect(ends[0]).toBeCloseTo(at(78.351), 0);
  expect(ends[1]).toBeCloseTo(at(79.149), 0);
});

test('in a plot the band, the set point, the limit and the first change stand where their values say', () => {
  const trace = SAMPLE.interlocks[0]!.traces[0]!;
  const seen = readMarkup(plotTrial(SAMPLE, subject(0), trace, 'k'));
  const of = (css: string): Seen[] => seen.filter(({ attributes }) => attributes['class'] === css);
  const band = of('tw-band')[0];
  const set = number(of('tw-set-point')[0], 'y1');
  expect(set).toBeGreaterThan(number(band, 'y'));
  expect(set).toBeLessThan(number(band, 'y') + number(band, 'height'));
  expect(number(of('tw-limit')[0], 'y1')).toBeGreaterThan(set);
  expect(number(of('tw-normal')[0], 'y1')).toBeLessThan(set);
  const frame = of('tw-frame')[0];
  const perSecond = number(frame, 'width') / (trace.to - trace.from);
  const moment = of('tw-moment').find((one) => number(one, 'height') > number(frame, 'height'));
  // Changed after 30.95 s and by 31.1 s of the window.
  expect(number(moment, 'x')).toBeCloseTo(number(frame, 'x') + (30.95 - trace.from) * perSecond, 0);
  for (const one of of('tw-signal')) {
    for (const corner of (one.attributes['points'] ?? '').split(' ')) {
      const [x, y] = corner.split(',').map(Number);
      expect(x).toBeGreaterThanOrEqual(number(frame, 'x') - 0.01);
      expect(x).toBeLessThanOrEqual(number(frame, 'x') + number(frame, 'width') + 0.01);
      expect(y).toBeGreaterThanOrEqual(number(frame, 'y'));
      expect(y).toBeLessThanOrEqual(number(frame, 'y') + number(frame, 'height'));
    }
  }
});

test('a gap is shown as a gap: the signal is not drawn across it', () => {
  const trace = SAMPLE.interlocks[2]!.traces[0]!;
  const seen = readMarkup(plotTrial(SAMPLE, subject(2), trace, 'k'));
  const css = (name: string): Seen[] => seen.filter(({ attributes }) => attributes['class'] === name);
  expect(css('tw-signal')).toHaveLength(2);
  const gap = css('tw-gap')[0];
  for (const one of css('tw-signal')) {
    const xs = (one.attributes['points'] ?? '').split(' ').map((corner) => Number(corner.split(',')[0]));
    const before = Math.max(...xs) <= number(gap, 'x') + 0.5;
    const after = Math.min(...xs) >= number(gap, 'x') + number(gap, 'width') - 0.5;
    expect(before || after).toBe(true);
  }
});

test('a contact has strips and no level plot', () => {
  const svg = plotTrial(SAMPLE, subject(3), SAMPLE.interlocks[3]!.traces[0]!, 'k');
  expect(svg).not.toContain('tw-frame');
  expect(svg).toContain('displaced');
  expect(numberLine(subject(3), 'k')).toBe('');
});

test('a report that has been through JSON says the same', () => {
  const again = JSON.parse(JSON.stringify(SAMPLE)) as WindowReport;
  expect(htmlReport(again)).toBe(PAGE);
  expect(reportJson(again)).toBe(reportJson(SAMPLE));
});

test('an empty trace, a single point and bounds lost in JSON draw without a NaN', () => {
  const trace = { ...SAMPLE.interlocks[0]!.traces[0]!, effects: [], cause: { signal: 0, points: [] } };
  const one = { ...trace, from: 3, to: 3, cause: { signal: 0, points: [{ t: 3, low: 96, high: 96 }] } };
  for (const given of [trace, one]) {
    const svg = plotTrial(SAMPLE, subject(0), given, 'k');
    readMarkup(svg);
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
  }
  expect(PAGE).not.toMatch(/NaN|undefined/);
});

test('the JSON gives verdict, reasons, intervals and trial', () => {
  const { interlocks } = JSON.parse(reportJson(SAMPLE));
  expect(interlocks[0]).toMatchObject({
    interlock: 'E1.underspeed-stop',
    verdict: 'pass',
    trial: 1,
    unit: 'rpm',
    tripPoint: { low: 78.351, high: 79.149 },
    response: { low: 0.86, high: 1.14 },
  });
  expect(interlocks[4].reasons.map((one: { code: string }) => one.code)).toEqual(['no-trial', 'not-armed']);
});

test('a report that names an interlock which its book does not have is refused by name', () => {
  const wrong = { ...SAMPLE, interlocks: [{ ...SAMPLE.interlocks[0]!, interlock: 99 as never }] };
  expect(() => htmlReport(wrong)).toThrow('interlock 99');
});
