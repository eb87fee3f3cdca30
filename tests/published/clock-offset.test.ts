/**
 * Offset and delay of a clock from the four times of one exchange. RFC 5905, section 8: theta = ((T2 − T1) + (T3 − T4)) / 2,
 * delta = (T4 − T1) − (T3 − T2).
 */
import { expect, test } from 'vitest';
import { exchangeOf } from '../../src/measure/index.ts';

test.each([
  // Erratum 5020 of RFC 5905 (rejected): 50 ms each way between equal clocks is no offset; the proposed change gave half the way.
  [0, 0.05, 0.05, 0.1, 0, 0.1],
  // Recomputed from the formulas of section 8.
  [100, 100.055, 100.056, 100.01, 0.0505, 0.009],
])('(%s, %s, %s, %s) s: offset %s, delay %s', (t1, t2, t3, t4, offset, delay) => {
  const found = exchangeOf(t1, t2, t3, t4);
  expect(found?.offset).toBeCloseTo(offset, 9);
  expect(found?.delay).toBeCloseTo(delay, 9);
});

test('the delay is what the server did not need: RFC 2030 had printed T2 − T3 for it, which adds that instead', () => {
  // Away for 100 ms, of which the server worked 40 ms.
  expect(exchangeOf(0, 0.03, 0.07, 0.1)?.delay).toBeCloseTo(0.06, 9);
});

test('an exchange that no clocks can have had is none', () => {
  // A newsgroup's example, said to give 2.330 s and 130 ms; from its own stamps it is 1.3816 s and −7.294 s. Seconds here
  // are counted from its first stamp.
  expect(exchangeOf(0, -2.2654, -2.2134, -7.242)).toBeUndefined();
  expect((-2.2654 + (-2.2134 + 7.242)) / 2).toBeCloseTo(1.3816, 4);
  expect(-7.242 - (-2.2134 + 2.2654)).toBeCloseTo(-7.294, 4);
  expect(exchangeOf(0, 1, 1, 0)).toEqual({ offset: 1, delay: 0 });
});
