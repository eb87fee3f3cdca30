/** What each signal showed last. */
import { expect, test } from 'vitest';
import { createLatest } from '../../../src/daemon/latest.ts';
import { columnsOf, instant, type Reading, type SignalId } from '../../../src/measure/index.ts';

const rowOf = (signal: number, at: number, more: Partial<Reading>): Reading => ({
  signal: signal as SignalId,
  at: { earliest: instant(at - 5), latest: instant(at) },
  response: at,
  flags: 2,
  ...more,
});

test('the last reading of a signal is given, value or not, and nothing of one that was never read', () => {
  const latest = createLatest(3);
  const value = rowOf(1, 10, { value: { low: 3, high: 4 } });
  const gone = rowOf(0, 12, { absent: 'timed-out' });
  latest.take(
    columnsOf([rowOf(1, 9, { absent: 'aged' }), value, rowOf(0, 11, { value: { low: 1, high: 1 } })]),
  );
  latest.take(columnsOf([gone]));
  expect([0, 1, 2].map((signal) => latest.get(signal))).toEqual([gone, value, undefined]);
});
