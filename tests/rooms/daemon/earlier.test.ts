/** What a window is told of the normals that earlier windows rested on. */
import { expect, test } from 'vitest';
import { earlierNormals } from '../../../src/daemon/earlier.ts';
import type { Finding, WindowVerdict } from '../../../src/judge/index.ts';
import { instant } from '../../../src/measure/index.ts';
import type { InterlockId } from '../../../src/rulebook/index.ts';
import { bookOf, underspeed } from '../judge/rig.ts';

const book = bookOf([underspeed()]);
const stop = 0 as InterlockId;
const finding = (outcome: WindowVerdict['outcome'], rpm: number): Finding => ({
  kind: 'window',
  at: instant(1),
  interlock: stop,
  trial: 1,
  verdict: {
    outcome,
    reasons: [{ code: 'no-trial', params: {} }],
    aspects: [],
    effects: [],
    proved: [],
    trials: [],
    trial: 1,
    normal: { low: rpm, high: rpm },
  },
});

test('the last pass counts, not what came out otherwise, nor a demand, nor a value in another unit', () => {
  const earlier = earlierNormals([]);
  const told = () => earlier.marks(book, [stop], instant(9));
  expect(told()).toEqual([]);
  earlier.take(book, 'w1', finding('fail', 80));
  expect(told()).toEqual([]);
  earlier.take(book, 'w2', finding('pass', 96));
  earlier.take(book, 'w3', finding('inconclusive', 80));
  earlier.take(book, 'w4', { ...finding('pass', 80), demand: true });
  expect(told()).toEqual([
    { code: 'earlier-normal', at: 9, interlock: stop, value: { low: 96, high: 96 }, window: 'w2' },
  ]);
  const signals = book.signals.map((def) => ({ ...def, unit: 'm/s' }));
  expect(earlier.marks({ ...book, signals }, [stop], instant(9))).toEqual([]);
});
