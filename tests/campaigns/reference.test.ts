/** The reference by hand: the worked cases of what a verdict means, and traces whose answer can be counted out. */
import { expect, test } from 'vitest';
import { compare, keepsTruth } from './compare.ts';
import { draw } from './plants.ts';
import { poll } from './polling.ts';
import { type Asked, type Changed, type Episode, refer, type Seen, survivors } from './reference.ts';

const NONE = { afterResponse: 0, byResponse: 0 };

/** A poll at phase + n × every of a value known ± doubt, from before the excursion to the end. */
const polled = (
  value: (t: number) => number,
  { phase, every, doubt, age, from, to }: Record<'phase' | 'every' | 'doubt' | 'age' | 'from' | 'to', number>,
): Seen[] => {
  const rows: Seen[] = [];
  for (let n = Math.ceil((from - phase) / every); phase + n * every <= to; n += 1) {
    const t = phase + n * every;
    rows.push({ earliest: t - age, latest: t, response: 0, low: value(t) - doubt, high: value(t) + doubt });
  }
  return rows;
};

const episode = (seen: readonly Seen[], changed: Changed, more: Partial<Episode> = {}): Episode => ({
  seen,
  quietBelow: Math.min(...seen.slice(0, 5).map((row) => row.low)),
  effects: [{ changed, quietUntil: changed.after, held: true }],
  restarted: 'no',
  handExcluded: true,
  slow: true,
  ...more,
});

const asked = (band: readonly [number, number], more: Partial<Asked> = {}): Asked => ({
  inner: { low: band[1], high: band[1] },
  outer: { low: band[0], high: band[0] },
  onReturn: 'resets',
  within: [4],
  longestGap: 1,
  contact: false,
  ...more,
});

/** Hull of the levels that survive with a delay within the given one. */
const levels = (episodes: readonly Episode[], what: Asked, delay: readonly [number, number]): number[] => {
  const cells = survivors(episodes, what).filter((cell) => cell.from < delay[1] && cell.to > delay[0]);
  return [Math.min(...cells.map((cell) => cell.low)), Math.max(...cells.map((cell) => cell.high))];
};

const DELAY = { low: 0.8, high: 1.2 };

/** Normal 96 rpm, 1 %/s through 82 % at 0; polls at 0.04 + n × 0.1, half a step of 0.05, image of a scan of 50 ms. */
const scanned = (t: number): number => Math.floor(t / 0.05 + 1e-9) * 0.05;
const falling = (t: number): number => Math.round((78.72 - 0.96 * scanned(t)) * 10) / 10;
const RAMP = polled(falling, { phase: 0.04, every: 0.1, doubt: 0.05, age: 0.05, from: -8, to: 4 });

test('worked case 1: with the delay known the ramp gives [78.35, 79.15] rpm; without, it cannot tell', () => {
  const seen = episode(RAMP, { after: 1.89, by: 2.04, ...NONE });
  const [low, high] = levels([seen], asked([77.28, 80.16], { delay: DELAY }), [1.8, 2.2]);
  // The published interval takes the trip instant (−0.31, 0.24]; the readings that bracket it are at most one poll off.
  expect(low).toBeGreaterThanOrEqual(78.35 - 0.1);
  expect(low).toBeLessThanOrEqual(78.45);
  expect(high).toBeGreaterThanOrEqual(79.05);
  expect(high).toBeLessThanOrEqual(79.15 + 0.1);
  const answer = refer([seen], asked([77.28, 80.16], { delay: { low: 1.8, high: 2.2 } }));
  expect(answer.setPoint).toBe('undecidable');
  expect(answer.outcome).toBe('undecidable');
});

test('worked case 2: a contact that opens at 0 and acts after 1 s gives (0.75, 1.25) s, with 50 ms of age 0.70 to 1.30', () => {
  for (const [age, low, high] of [
    [0, 0.75, 1.25],
    [0.05, 0.7, 1.3],
  ] as const) {
    // Turned: 0 closed, −1 open.
    const open = (t: number): number => (t >= 0 ? -1 : 0);
    const seen = polled(open, { phase: 0.1, every: 0.25, doubt: 0, age, from: -4, to: 4 });
    const one = episode(seen, { after: 0.85 - age, by: 1.1, ...NONE }, { slow: false });
    const answer = refer(
      [one],
      asked([-1, 0], { contact: true, delay: { low: 0.8, high: 1.2 }, within: [1.5] }),
    );
    expect(answer.delays?.low).toBeCloseTo(low, 9);
    expect(answer.delays?.high).toBeCloseTo(high, 9);
    expect(answer.effects).toEqual(['pass']);
    expect(answer.delay).toBe('undecidable');
  }
});

test('worked case 3: a probe at 0.5 °F/s without delay passes 120 ± 2 °F', () => {
  const heated = (t: number): number => -Math.round((120 + 0.5 * t) * 10) / 10;
  const rows = polled(heated, { phase: 0.4, every: 1, doubt: 0.05, age: 0, from: -20, to: 10 });
  const seen = rows.map((row, index) => ({ ...row, response: index + 1 }));
  const response = (t: number): number => seen.find((row) => row.latest > t)?.response ?? 0;
  const changed = { after: -0.6, by: 0.4, afterResponse: response(-0.7), byResponse: response(0.3) };
  const what = asked([-122, -118], { within: [1] });
  const [low, high] = levels([episode(seen, changed)], what, [0, 1e-6]);
  expect(low).toBeCloseTo(-120.25, 9);
  expect(high).toBeCloseTo(-119.65, 9);
  expect(refer([episode(seen, changed)], what).outcome).toBe('pass');
});

test('a ramp and a step together tell level from delay', () => {
  const stepped = (t: number): number => (t < 0 ? 96 : 70);
  const rows = polled(stepped, { phase: 0.02, every: 0.05, doubt: 0.05, age: 0, from: -8, to: 4 });
  const step = episode(rows, { after: 0.97, by: 1.02, ...NONE }, { slow: false });
  const ramp = episode(RAMP, { after: 0.94, by: 1.04, ...NONE });
  const what = asked([77.28, 80.16], { delay: DELAY });
  expect(refer([ramp], what).setPoint).toBe('undecidable');
  expect(refer([step], what).setPoint).toBe('undecidable');
  const both = refer([ramp, step], what);
  expect(both.setPoint).toBe('pass');
  expect(both.delays?.low).toBeCloseTo(0.95, 9);
  expect(both.delays?.high).toBeCloseTo(1.05, 9);
  // The counter-case: 79.5 % without delay leaves the same ramp, and the step gives it away.
  const atOnce = episode(rows, { after: -0.03, by: 0.02, ...NONE }, { slow: false });
  expect(refer([ramp, atOnce], what).outcome).toBe('fail');
});

test('a timer that starts again and one that sums read a bounce differently', () => {
  const bounced = (t: number): number => (t < 0 || (t >= 0.6 && t < 1) ? 96 : 70);
  const rows = polled(bounced, { phase: 0.01, every: 0.02, doubt: 0.05, age: 0, from: -4, to: 4 });
  const seen = episode(rows, { after: 1.39, by: 1.41, ...NONE }, { slow: false });
  const delays = (onReturn: Asked['onReturn']): number[] => {
    const cells = survivors([seen], asked([77, 80], { delay: DELAY, onReturn })).filter(
      (cell) => cell.low > 70 && cell.high < 96,
    );
    return [Math.min(...cells.map((cell) => cell.from)), Math.max(...cells.map((cell) => cell.to))];
  };
  const [resetLow, resetHigh] = delays('resets');
  // It would have acted in the first dip of 0.6 s had its delay been 0.4 s: no timer that starts again fits.
  expect([resetLow, resetHigh]).toEqual([Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]);
  const [sumLow, sumHigh] = delays('accumulates');
  expect(sumLow).toBeGreaterThan(0.94);
  expect(sumLow).toBeLessThan(1.001);
  expect(sumHigh).toBeGreaterThan(0.999);
  expect(sumHigh).toBeLessThan(1.06);
});

test('a silence that is too long excludes nothing', () => {
  const stepped = (t: number): number => (t < 0 ? 96 : 70);
  const all = polled(stepped, { phase: 0.02, every: 0.05, doubt: 0.05, age: 0, from: -8, to: 4 });
  const what = asked([77.28, 80.16], { delay: DELAY });
  const changed = { after: 2.97, by: 3.02, ...NONE };
  const known = refer([episode(all, changed, { slow: false })], what);
  expect(known.outcome).toBe('fail');
  const blind = all.filter((row) => row.latest < 0.5 || row.latest > 2);
  expect(refer([episode(blind, changed, { slow: false })], what).outcome).toBe('undecidable');
});

test('nothing acted although every controller of the band would have: a fail', () => {
  const stepped = (t: number): number => (t < 0 || t > 3 ? 96 : 70);
  const rows = polled(stepped, { phase: 0.02, every: 0.05, doubt: 0.05, age: 0, from: -8, to: 4 });
  const quiet: Episode = {
    ...episode(rows, { after: 0, by: 0, ...NONE }),
    effects: [{ quietUntil: 4 }],
    slow: false,
  };
  expect(refer([quiet], asked([77.28, 80.16], { delay: DELAY })).outcome).toBe('fail');
  expect(refer([quiet], asked([60, 69], { delay: DELAY })).outcome).toBe('undecidable');
});

test('where a hand may have stopped the machine nothing is proved', () => {
  const stepped = (t: number): number => (t < 0 ? 96 : 70);
  const rows = polled(stepped, { phase: 0.02, every: 0.05, doubt: 0.05, age: 0, from: -8, to: 4 });
  const step = episode(rows, { after: 0.97, by: 1.02, ...NONE }, { slow: false });
  const ramp = episode(RAMP, { after: 0.94, by: 1.04, ...NONE });
  const what = asked([77.28, 80.16], { delay: DELAY });
  expect(refer([ramp, step], what).outcome).toBe('pass');
  expect(refer([ramp, { ...step, handExcluded: false }], what).outcome).toBe('undecidable');
});

test('the controller as it was made is always among what survives', { timeout: 300_000 }, () => {
  for (let seed = 31; seed < 91; seed += 1) {
    const drawn = draw(seed);
    if (drawn.disturbed || drawn.made.fault !== undefined) continue;
    expect(keepsTruth(drawn, poll(drawn)), `plant ${seed}`).toBe(true);
  }
});

test('the same seed draws the same plant and the same verdict', () => {
  expect(compare(77, true)).toEqual(compare(77, true));
});
