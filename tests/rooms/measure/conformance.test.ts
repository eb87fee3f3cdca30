/** Decision rules: what they say at their limits, and that no rule says more than is known. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { normalBelow } from '../../../src/measure/conformance-normal.ts';
import { type DecisionRule, decide, type Interval, place } from '../../../src/measure/index.ts';

/**
 * Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.1 (15 decimals up to 3) and 26.2 (tails), typed
 * from memory and checked with a 25-digit computation by another program; 2.99 and 3.01 lie on both sides of the
 * change of method.
 */
test.each([
  [0, 0.5, 0.5],
  [0.5, 0.691462461274013, 0.308537538725987],
  [1, 0.841344746068543, 0.158655253931457],
  [1.96, 0.97500210485178, 0.02499789514822],
  [2, 0.977249868051821, 0.022750131948179],
  [2.99, 0.998605112764508, 0.00139488723549225],
  [3, 0.99865010196837, 0.00134989803163009],
  [3.01, 0.998693761551231, 0.00130623844876947],
  [4, 0.999968328758167, 3.16712418331199e-5],
  [5, 0.999999713348428, 2.86651571879194e-7],
  [6, 0.999999999013412, 9.86587645037698e-10],
])('share of a normal distribution below ±%s', (z, below, above) => {
  expect(Math.abs(normalBelow(z) - below)).toBeLessThan(1e-12);
  expect(Math.abs(normalBelow(-z) / above - 1)).toBeLessThan(1e-9);
});

test('everything lies below infinity, nothing below minus infinity', () => {
  expect(normalBelow(Number.POSITIVE_INFINITY)).toBe(1);
  expect(normalBelow(Number.NEGATIVE_INFINITY)).toBe(0);
});

const NONE = Number.POSITIVE_INFINITY;
const RULES: readonly DecisionRule[] = [
  { rule: 'bounds' },
  { rule: 'guard-band' },
  { rule: 'guard-band', r: 0.5, shape: 'normal' },
  { rule: 'simple' },
];

const interval = fc
  .tuple(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.double({ min: -1e6, max: 1e6, noNaN: true }))
  .map(([a, b]): Interval => ({ low: Math.min(a, b), high: Math.max(a, b) }));

test('bounds says what the comparison of intervals says', () => {
  fc.assert(
    fc.property(interval, interval, (measured, allowed) => {
      expect(decide(measured, allowed, { rule: 'bounds' }).place).toBe(place(measured, allowed));
    }),
  );
});

const wide = interval.filter(({ low, high }) => high - low > 1);

test('inside is likelier than not, outside is not; bounds are certain where the spread ends there', () => {
  fc.assert(
    fc.property(wide, fc.double({ min: -1e6, max: 1e6, noNaN: true }), (measured, low) => {
      for (const rule of RULES) {
        const { place: at, probability = Number.NaN } = decide(measured, { low, high: NONE }, rule);
        if (at === 'inside') expect(probability).toBeGreaterThan(0.499);
        if (at === 'outside') expect(probability).toBeLessThan(0.501);
        if (rule.rule === 'bounds' && at !== 'undecided') expect(probability).toBe(at === 'inside' ? 1 : 0);
      }
    }),
  );
});

/** 10 ± 1 rectangular: u = 1/√3 = 0.5774, U = 1.1547; limit at 9.5: three quarters of the interval lie above it. */
test.each([
  ['bounds', undefined, 9.5, 'undecided'],
  ['bounds', undefined, 9, 'inside'],
  ['bounds', undefined, 11.1, 'outside'],
  ['simple', undefined, 9.5, 'inside'],
  ['simple', undefined, 10, 'inside'],
  ['simple', undefined, 10.1, 'outside'],
  ['guard-band', undefined, 8.9, 'undecided'],
  ['guard-band', undefined, 8.84, 'inside'],
  ['guard-band', 1, 8.9, 'undecided'],
  ['guard-band', 1, 8.84, 'inside'],
  ['guard-band', 1, 11.1, 'undecided'],
  ['guard-band', 1, 11.2, 'outside'],
  ['guard-band', 0.5, 9.4, 'inside'],
  ['guard-band', 0.5, 9.5, 'undecided'],
] as const)('%s (r %s): 10 ± 1 against at least %s is %s', (rule, r, low, at) => {
  const decided = decide({ low: 9, high: 11 }, { low, high: NONE }, { rule, ...(r && { r }) });
  expect(decided.place).toBe(at);
  expect(decided.probability).toBeCloseTo(Math.min(1, Math.max(0, (11 - low) / 2)), 12);
});

test('two limits: the share between them; a band narrower than the guard can never be met', () => {
  const measured = { low: 9, high: 11 };
  expect(decide(measured, { low: 9.5, high: 10.2 }, { rule: 'simple' })).toEqual({
    place: 'inside',
    probability: expect.closeTo(0.35, 12),
  });
  expect(decide(measured, { low: 9.5, high: 10.2 }, { rule: 'guard-band' }).place).toBe('undecided');
});

test('a touching bound is inside; where the limit is open it is outside', () => {
  const exact = { low: 32.8, high: 32.8 };
  const limit = { low: 0.8 * 41, high: NONE };
  for (const rule of RULES) {
    expect(decide(exact, limit, rule)).toEqual({ place: 'inside', probability: 1 });
    expect(decide(exact, { ...limit, open: true }, rule)).toEqual({ place: 'outside', probability: 0 });
    expect(decide({ low: 32.9, high: 32.9 }, { ...limit, open: true }, rule).place).toBe('inside');
  }
});

test('what is not bounded is decided by certainty alone', () => {
  const from = { low: 6, high: NONE };
  expect(decide(from, { low: 0, high: 5 }, { rule: 'bounds' })).toEqual({ place: 'outside', probability: 0 });
  expect(decide(from, { low: 5, high: NONE }, { rule: 'bounds' })).toEqual({
    place: 'inside',
    probability: 1,
  });
  expect(decide({ low: 1, high: NONE }, { low: 0, high: 5 }, { rule: 'bounds' })).toEqual({
    place: 'undecided',
  });
  expect(decide(from, { low: 7, high: NONE, open: true }, { rule: 'bounds' })).toEqual({
    place: 'undecided',
  });
  for (const rule of RULES.filter((one) => one.rule !== 'bounds')) {
    expect(decide(from, { low: 5, high: NONE }, rule).place).toBe('undecided');
    expect(decide(from, { low: 0, high: 5 }, rule).place).toBe('undecided');
  }
});

test.each([
  [Number.NaN, 1],
  [1, Number.NaN],
  [2, 1],
])('no interval (%s … %s), no limit: no decision and no probability', (low, high) => {
  for (const rule of RULES) {
    expect(decide({ low, high }, { low: 0, high: 5 }, rule)).toEqual({ place: 'undecided' });
    expect(decide({ low: 1, high: 2 }, { low, high }, rule)).toEqual({ place: 'undecided' });
  }
});

test('a negative guard band decides nothing', () => {
  expect(decide({ low: 1, high: 2 }, { low: 0, high: 5 }, { rule: 'guard-band', r: -1 }).place).toBe(
    'undecided',
  );
});
