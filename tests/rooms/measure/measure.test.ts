import { expect, test } from 'vitest';
import {
  allOf,
  atMost,
  columnsOf,
  convert,
  divide,
  exitCodeOf,
  formatUtc,
  instant,
  lessThan,
  parseQuantity,
  parseUtc,
  place,
  type Reading,
  readingAt,
} from '../../../src/measure/index.ts';

/** RFC 3339, section 5.8, examples; the last three rows are the same instants in another offset. */
test.each([
  ['1985-04-12T23:20:50.52Z', '1985-04-12T23:20:50.520000Z'],
  ['1996-12-19T16:39:57-08:00', '1996-12-20T00:39:57.000000Z'],
  ['1990-12-31T23:59:60Z', '1991-01-01T00:00:00.000000Z'],
  ['1990-12-31T15:59:60-08:00', '1991-01-01T00:00:00.000000Z'],
  ['1937-01-01T12:00:27.87+00:20', '1937-01-01T11:40:27.870000Z'],
])('RFC 3339: %s', (text, utc) => {
  const at = parseUtc(text);
  expect(at).toBeDefined();
  expect(formatUtc(at!)).toBe(utc);
});

test.each(['2026-02-30T00:00:00Z', '2026-11-25 10:00', '2026-11-25T10:00:00', '2026-13-01T00:00:00Z', 'now'])(
  'no time: %s',
  (text) => {
    expect(parseUtc(text)).toBeUndefined();
  },
);

test('UTC agrees with the runtime over four centuries', () => {
  for (let day = -73_000; day < 73_000; day += 97) {
    const ms = day * 86_400_000 + 12_345_678;
    expect(formatUtc(instant(ms * 1000))).toBe(new Date(ms).toISOString().replace('Z', '000Z'));
  }
});

/** 0.8 × 41 is 32.800000000000004 in IEEE 754: a reading of 32.8 rpm at a limit of 0.8 × 41 rpm touches it. */
test('a decimal bound that touches is inside', () => {
  expect(atMost(0.8 * 41, 32.8)).toBe(true);
  expect(atMost(0.8 * 1.5, 1.2)).toBe(true);
  expect(lessThan(32.8, 0.8 * 41)).toBe(false);
  expect(atMost(32.9, 32.8)).toBe(false);
});

/**
 * Trip table from handbook rows of spaced-bucket elevators (Perry's, from memory; speeds recomputed) and the limit of
 * 29 CFR 1910.272(q)(5): 0.80 of the normal speed.
 */
test.each([
  [20, 43, 225.147, 34.5, 34.3],
  [24, 41, 257.611, 32.9, 32.7],
  [30, 38, 298.451, 30.5, 30.3],
])('pulley of %i in at %i rpm', (inches, rpm, feetPerMinute, justPass, justFail) => {
  expect((Math.PI * inches * rpm) / 12).toBeCloseTo(feetPerMinute, 3);
  expect(place({ low: justPass, high: justPass }, { low: 0.8 * rpm, high: rpm })).toBe('inside');
  expect(place({ low: justFail, high: justFail }, { low: 0.8 * rpm, high: rpm })).toBe('outside');
  expect(place({ low: justFail, high: justPass }, { low: 0.8 * rpm, high: rpm })).toBe('undecided');
});

/** Temperatures: 80 °C = 176 °F; a rise of 40 K = 72 °F and 35 K = 63 °F (motor manual, vendor withheld). */
test('a temperature converts with its zero, a rise without', () => {
  expect(convert(80, 'degC', 'degF')).toBeCloseTo(176, 9);
  expect(convert(175, 'degF', 'degC')).toBeCloseTo(79.444, 3);
  expect(convert(40, 'K', 'degF', true)).toBeCloseTo(72, 9);
  expect(convert(35, 'degC', 'degF', true)).toBeCloseTo(63, 9);
  expect(convert(1, 'rpm', 's')).toBeUndefined();
});

/** Expected to fail: the slack for decimals is itself infinite there. It must turn red, and lose its `fails`, when mended. */
test('a bound that is not known keeps no finite limit', () => {
  expect(atMost(Number.POSITIVE_INFINITY, 5)).toBe(false);
  expect(place({ low: 1, high: Number.POSITIVE_INFINITY }, { low: 0, high: 5 })).toBe('undecided');
});

test('quantities as people write them', () => {
  expect(parseQuantity('82 %')).toEqual({ value: 82, unit: '%' });
  expect(parseQuantity('-1.5degC')).toEqual({ value: -1.5, unit: 'degC' });
  expect(parseQuantity('82')).toBeUndefined();
});

test('division by what may be zero is not known', () => {
  expect(divide({ low: 1, high: 2 }, { low: 0, high: 1 })).toBeUndefined();
  expect(divide({ low: -1, high: 2 }, { low: 2, high: 4 })).toEqual({ low: -0.5, high: 1 });
});

test('everything is needed for a pass; exit codes follow', () => {
  expect(allOf(['pass', 'not-tested', 'inconclusive'])).toBe('inconclusive');
  expect(allOf([])).toBe('not-tested');
  expect(exitCodeOf(['pass', 'pass'])).toBe(0);
  expect(exitCodeOf(['pass', 'fail', 'inconclusive'])).toBe(1);
  expect(exitCodeOf(['pass', 'not-tested'])).toBe(2);
  expect(exitCodeOf([])).toBe(2);
});

test('rows to columns and back', () => {
  const rows: Reading[] = [
    {
      signal: 3 as never,
      at: { earliest: instant(1), latest: instant(2) },
      response: 7,
      flags: 1,
      value: { low: 1, high: 2 },
    },
    {
      signal: 4 as never,
      at: { earliest: instant(1), latest: instant(3) },
      response: 0,
      flags: 0,
      absent: 'timed-out',
    },
  ];
  const columns = columnsOf(rows);
  expect([readingAt(columns, 0), readingAt(columns, 1), readingAt(columns, 2)]).toEqual([...rows, undefined]);
});
