/** Numbers, intervals and times as text. */
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { instant } from '../../../src/measure/index.ts';
import {
  formatBand,
  formatInterval,
  formatNumber,
  formatSeconds,
  formatTime,
} from '../../../src/words/index.ts';

test('the trip point of the worked under-speed case is shown with two decimals', () => {
  expect(formatInterval({ low: 81.57, high: 82.49 }, '%')).toBe('81.57 … 82.49 %');
  expect(formatInterval({ low: 81.5663, high: 82.4812 }, '%')).toBe('81.56 … 82.49 %');
  expect(formatInterval({ low: -0.0312, high: 0.24 }, 's')).toBe('-0.04 … 0.24 s');
});

test('units are shown as people read them, and a single value has no dots', () => {
  expect(formatInterval({ low: 80, high: 80 }, 'degC')).toBe('80 °C');
  expect(formatBand({ low: 80.5, high: 83.5 }, '%')).toBe('80.5 … 83.5 %');
});

test('a missing bound is said in words, also where JSON has made it null', () => {
  expect(formatInterval({ low: 0.8, high: Number.POSITIVE_INFINITY }, 's')).toBe('at least 0.800 s');
  expect(formatInterval({ low: Number.NEGATIVE_INFINITY, high: 2 }, 's')).toBe('at most 2.000 s');
  expect(formatInterval(JSON.parse('{"low":null,"high":null}'))).toBe('not known');
});

test('what is printed never promises more than was measured', () => {
  const bound = fc.double({ min: -1e6, max: 1e6, noNaN: true });
  void fc.assert(
    fc.property(bound, fc.double({ min: 1e-5, max: 1e4, noNaN: true }), (low, width) => {
      const high = low + width;
      const [a, b] = formatInterval({ low, high }).split(' … ').map(Number);
      const slack = 1e-8 * Math.max(1, Math.abs(low), Math.abs(high));
      expect(a).toBeLessThanOrEqual(low + slack);
      expect(b).toBeGreaterThanOrEqual(high - slack);
      expect(b! - a!).toBeLessThanOrEqual(width * 1.21 + 3e-6 + slack);
    }),
  );
});

test('numbers carry no trailing zeros, no negative zero and no binary noise', () => {
  expect(formatNumber(0.1 + 0.2)).toBe('0.3');
  expect(formatNumber(-0)).toBe('0');
  expect(formatNumber(100)).toBe('100');
  expect(formatNumber(1e-9)).toBe('1.00e-9');
  expect(formatNumber(Number.NaN)).toBe('unknown');
});

test('lengths of time', () => {
  expect(formatSeconds(0.85)).toBe('0.85 s');
  expect(formatSeconds(125)).toBe('2 min 5 s');
  expect(formatSeconds(3_800)).toBe('1 h 3 min 20 s');
  expect(formatSeconds(-125)).toBe('-2 min 5 s');
});

test('an instant is shown in UTC', () => {
  expect(formatTime(instant(1_764_063_000_250_000))).toBe('2025-11-25 09:30:00.250 UTC');
});
