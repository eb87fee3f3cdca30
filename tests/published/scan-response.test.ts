/**
 * Response of a programmable controller from an input to an output: input delay + scans + overhead + output delay, two
 * scans at worst and one at best. Figures: a controller's manual (vendor withheld), 1.5 + 2 × 20 + 3 + 15 = 59.5 ms and
 * 1.5 + 20 + 0.23 + 3 + 15 = 39.73 ms; the manual leaves its refresh of 0.23 ms out of the worst case.
 */
import { expect, test } from 'vitest';
import type { Interval } from '../../src/measure/index.ts';
import { bookOf, effect, idOf, judged, sample, underspeed } from '../rooms/judge/rig.ts';

const INPUT = 1.5e-3;
const SCAN = 20e-3;
const EVERY = 20e-3;
const WORST = INPUT + 2 * SCAN + 3e-3 + 15e-3;
const BEST = INPUT + SCAN + 0.23e-3 + 3e-3 + 15e-3;
/** An input image is as old as its delay and two scans; what a tag shows of an output, one scan. */
const AGES = { contact: INPUT + 2 * SCAN, run: SCAN };

test('the budget is the manual’s', () => {
  expect(WORST * 1000).toBeCloseTo(59.5, 9);
  expect(BEST * 1000).toBeCloseTo(39.73, 9);
});

const { delay: _delay, limit: _limit, ...bare } = underspeed();

/** The contact closes at 5 s; its tag lags by `seen`, that of the output by `shown`; ages are declared as given. */
const judgedResponse = (
  truth: number,
  seen: number,
  shown: number,
  phase: number,
  ages: typeof AGES,
): Interval | undefined => {
  const plant = {
    contact: (t: number) => (t - seen >= 5 ? 1 : 0),
    run: (t: number) => (t - shown >= 5 + truth ? 0 : 1),
  };
  const one = {
    ...bare,
    cause: { kind: 'contact' as const, signal: idOf('contact'), state: 1 },
    effects: [effect('run', 0, 1e6)] as const,
    armed: { when: [], after: 0 },
  };
  const rows = sample(plant, { from: 0, to: 6, every: EVERY, phase }).map((row) => {
    const age = row.signal === idOf('contact') ? ages.contact : ages.run;
    return {
      ...row,
      at: { ...row.at, earliest: (row.at.latest - Math.round(age * 1e6)) as typeof row.at.latest },
    };
  });
  return judged(bookOf([one]), rows, { method: 'displaced' }).windows[0]?.response;
};

const PHASES = [0, 0.003, 0.007, 0.011, 0.019];
const LAGS = [0, 0.5, 1];

test.each([
  ['worst', WORST, INPUT + 2 * SCAN],
  ['best', BEST, INPUT + SCAN],
])('with scans as age the interval holds the %s response at every phase and lag', (_case, truth, oldest) => {
  for (const phase of PHASES) {
    for (const seen of LAGS) {
      for (const shown of LAGS) {
        const found = judgedResponse(truth, seen * oldest, shown * AGES.run, phase, AGES);
        expect(found?.low).toBeLessThanOrEqual(truth + 1e-6);
        expect(found?.high).toBeGreaterThanOrEqual(truth - 1e-6);
        const widest = 2 * EVERY + AGES.contact + AGES.run;
        expect((found?.high ?? 0) - (found?.low ?? 0)).toBeLessThanOrEqual(widest + 1e-6);
      }
    }
  }
});

test('without the age of the input image the same readings claim a response that is too short', () => {
  const none = { contact: 0, run: 0 };
  const claimed = PHASES.map((phase) => judgedResponse(WORST, AGES.contact, 0, phase, none));
  expect(claimed.some((one) => one !== undefined && one.high < WORST)).toBe(true);
});
