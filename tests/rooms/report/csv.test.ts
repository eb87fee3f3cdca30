/** CSV after RFC 4180 (October 2005), section 2, read back by Python's strict reader. */
import { describe, expect, test } from 'vitest';
import {
  EFFECT_COLUMNS,
  effectsCsv,
  VERDICT_COLUMNS,
  verdictsCsv,
  type WindowReport,
} from '../../../src/report/index.ts';
import { csvOf, python, withoutPython } from './independent.ts';
import { SAMPLE } from './sample.ts';

const titled = (title: string): WindowReport => {
  const [first, ...rest] = SAMPLE.book.interlocks;
  if (first === undefined) throw new Error('the sample has interlocks');
  return { ...SAMPLE, book: { ...SAMPLE.book, interlocks: [{ ...first, title }, ...rest] } };
};

const cell = (rows: readonly (readonly string[])[], line: number, name: string): string => {
  const at = rows[0]?.indexOf(name) ?? -1;
  if (at < 0) throw new Error(`no column ${name}`);
  return rows[line]?.[at] ?? '';
};

/** Names and texts with everything that a line of CSV could break on. */
const AWKWARD = ['a,b', 'say "no"', 'two\r\nlines', 'two\nlines', 'Größe ≥ 3 Ω', '', ' spaces '];

describe.skipIf(!python)(`as an independent reader sees it${withoutPython}`, () => {
  test('a header and a line for each interlock, the same number of fields in all of them', () => {
    const rows = csvOf(verdictsCsv(SAMPLE));
    expect(rows[0]).toEqual([...VERDICT_COLUMNS]);
    expect(rows).toHaveLength(1 + SAMPLE.interlocks.length);
    expect(new Set(rows.map((row) => row.length))).toEqual(new Set([VERDICT_COLUMNS.length]));
  });

  test('a line for each effect', () => {
    const rows = csvOf(effectsCsv(SAMPLE));
    expect(rows[0]).toEqual([...EFFECT_COLUMNS]);
    expect(rows).toHaveLength(1 + SAMPLE.book.interlocks.reduce((sum, one) => sum + one.effects.length, 0));
    expect(new Set(rows.map((row) => row.length))).toEqual(new Set([EFFECT_COLUMNS.length]));
    expect(rows.map((row) => row[EFFECT_COLUMNS.indexOf('becomes')]).slice(1, 5)).toEqual([
      'stop',
      'tripped',
      'stopped',
      'stopped',
    ]);
  });

  test.each(AWKWARD)('%j comes back', (title) => {
    const rows = csvOf(verdictsCsv(titled(title)));
    expect(cell(rows, 1, 'title')).toBe(title);
    expect(rows).toHaveLength(1 + SAMPLE.interlocks.length);
  });

  // OWASP, "CSV Injection": fields beginning with = + - @, tab or carriage return are made text by an apostrophe.
  test.each(['=1+1', '+1', '-1', '@SUM(A1)', '\tx', '\rx', "'quoted"])('%j is text', (title) => {
    const rows = csvOf(verdictsCsv(titled(title)));
    expect(cell(rows, 1, 'title')).toBe(`'${title}`);
  });

  test('numbers are numbers, also below zero, with their unit beside them', () => {
    const [stop, ...rest] = SAMPLE.interlocks;
    if (stop === undefined) throw new Error('the sample has interlocks');
    const cold = { ...stop, verdict: { ...stop.verdict, tripPoint: { low: -40.25, high: -39.5 } } };
    const rows = csvOf(verdictsCsv({ ...SAMPLE, interlocks: [cold, ...rest] }));
    expect(cell(rows, 1, 'trip_low')).toBe('-40.25');
    expect(cell(rows, 1, 'trip_high')).toBe('-39.5');
    expect(cell(rows, 1, 'level_unit')).toBe('rpm');
    expect(cell(rows, 1, 'time_unit')).toBe('s');
  });

  test('a bound that there is not is an empty field', () => {
    const [stop, ...rest] = SAMPLE.interlocks;
    if (stop === undefined) throw new Error('the sample has interlocks');
    // As a log gives it back: JSON has no infinity.
    const high = null as unknown as number;
    const open = { ...stop, verdict: { ...stop.verdict, response: { low: 0.8, high } } };
    const rows = csvOf(verdictsCsv({ ...SAMPLE, interlocks: [open, ...rest] }));
    expect(cell(rows, 1, 'response_low')).toBe('0.8');
    expect(cell(rows, 1, 'response_high')).toBe('');
  });
});

test('every line ends with CR LF, and none has another line break outside of quotes', () => {
  for (const text of [verdictsCsv(SAMPLE), effectsCsv(SAMPLE)]) {
    expect(text.endsWith('\r\n')).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  }
});

test('a field with a quote, a comma or a line break stands in quotes, its own doubled (RFC 4180, 2.6 and 2.7)', () => {
  expect(verdictsCsv(titled('b""bb'))).toContain('"b""""bb"');
  expect(verdictsCsv(titled('b,bb'))).toContain(',"b,bb",');
});
