/** The three worked cases that the judge must reproduce to the digit; arithmetic by hand, no outside source. */
import { expect, test } from 'vitest';
import { type Row, rowsFrom, swept } from '../../../src/judge/rows.ts';
import { bookOf, effect, idOf, judged, sample, underspeed } from './rig.ts';

const turns = (t: number): number => 78.72 - 0.96 * t;

const rowsOf = (
  value: (t: number) => number,
  age: number,
  every: number,
  phase: number,
  scan: number,
): Row[] =>
  sample({ speed: (t) => value(t) }, { from: -6, to: 6, every, phase, age, scan })
    .filter((row) => row.signal === idOf('speed'))
    .map((row) => ({
      earliest: row.at.earliest,
      latest: row.at.latest,
      low: row.value?.low ?? 0,
      high: row.value?.high ?? 0,
      response: 0,
    }));

const ZERO = 1_000_000 * 1_000_000;

test('case 1: output in (1.89, 2.04], delay 2 ± 0.2 s: trip point 78.35 … 79.15 rpm', () => {
  const rows = rowsOf(turns, 0.05, 0.1, 0.04, 0.05);
  const trip = swept(rowsFrom(rows), ZERO + 1_890_000 - 2_200_000, ZERO + 2_040_000 - 1_800_000);
  expect(trip?.low).toBeCloseTo(78.35, 6);
  expect(trip?.high).toBeCloseTo(79.15, 6);
  expect(((trip?.low ?? 0) / 96) * 100).toBeCloseTo(81.61, 2);
  expect(((trip?.high ?? 0) / 96) * 100).toBeCloseTo(82.45, 2);
  expect(((trip?.low ?? 0) / 96.05) * 100).toBeCloseTo(81.57, 2);
  expect(((trip?.high ?? 0) / 95.95) * 100).toBeCloseTo(82.49, 2);
});

test('case 1, counter-case: the same shift on output at 2.50 s gives 81.20 … 81.93 %', () => {
  const rows = rowsOf(turns, 0.05, 0.1, 0.04, 0.05);
  const trip = swept(rowsFrom(rows), ZERO + 2_390_000 - 2_200_000, ZERO + 2_540_000 - 1_800_000);
  expect(((trip?.low ?? 0) / 96) * 100).toBeCloseTo(81.2, 1);
  expect(((trip?.high ?? 0) / 96) * 100).toBeCloseTo(81.93, 2);
});

test('case 1: with the delay not measured in the window the set point is inconclusive', () => {
  const drop = (t: number): number => (t >= 2 ? 0 : 1);
  const two = { time: 2_000_000, tolerance: 200_000, onReturn: 'resets' as const };
  const later = underspeed().effects.map((one) => ({ ...one, within: 4_000_000 }));
  const book = bookOf([underspeed({ delay: two, effects: [later[0]!, ...later.slice(1)] })], { age: 50_000 });
  const plant = {
    speed: (t: number) => Math.min(96, turns(t)),
    run: drop,
    tripped: (t: number) => 1 - drop(t),
    running: (t: number) => drop(t - 0.2),
  };
  const rows = sample(plant, { from: -26, to: 6, every: 0.1, phase: 0.04, age: 0.05, scan: 0.05 });
  const verdict = judged(book, rows).windows[0];
  expect(verdict?.outcome).toBe('inconclusive');
  expect(verdict?.reasons.map((one) => one.code)).toContain('level-and-delay-not-separated');
});

test('case 2: a contact that acts after 1 s, polled each 250 ms: response (0.75, 1.25), with age (0.70, 1.30)', () => {
  const contact = underspeed({
    cause: { kind: 'contact', signal: idOf('contact'), state: 1 },
    effects: [effect('run', 0, 1_500_000)],
  });
  const { delay: _delay, limit: _limit, ...bare } = contact;
  const plant = {
    contact: (t: number) => (t >= 0 ? 1 : 0),
    run: (t: number) => (t >= 1 ? 0 : 1),
    tripped: (t: number) => (t >= 1 ? 1 : 0),
  };
  for (const [age, low, high] of [
    [0, 0.75, 1.25],
    [0.05, 0.7, 1.3],
  ] as const) {
    const rows = sample(plant, { from: -6, to: 4, every: 0.25, phase: 0.1, age });
    const passing = judged(bookOf([bare], { age: age * 1e6 }), rows).windows[0];
    expect(passing?.response?.low).toBeCloseTo(low, 6);
    expect(passing?.response?.high).toBeCloseTo(high, 6);
    expect(passing?.outcome).toBe('pass');
    const strict = judged(
      bookOf([{ ...bare, delay: { time: 1e6, tolerance: 2e5, onReturn: 'resets' } }]),
      rows,
    ).windows[0];
    expect(strict?.outcome).toBe('inconclusive');
    expect(strict?.reasons[0]?.code).toBe('delay-undecided');
  }
});

test('case 3: a probe heated 0.5 °F/s: 119.65 … 120.25, a pass at 120 ± 2; with 0.1 s of age 119.15 … 120.75', () => {
  const probe = underspeed({
    cause: {
      kind: 'level',
      signal: idOf('temp'),
      side: 'above',
      setPoint: { of: 'absolute', factor: 0, offset: 120 },
      tolerance: { of: 'absolute', factor: 0, offset: 2 },
      clears: { of: 'absolute', factor: 0, offset: 115 },
    },
    effects: [effect('horn', 1, 2_000_000, { class: 'alarm' })],
  });
  const { delay: _delay, limit: _limit, ...bare } = probe;
  const plant = { temp: (t: number) => 120 + 0.5 * t, horn: (t: number) => (t >= 0 ? 1 : 0) };
  for (const [age, consistent, low, high] of [
    [0, true, 119.65, 120.25],
    [0.1, false, 119.15, 120.75],
  ] as const) {
    const rows = sample(plant, { from: -30, to: 5, every: 1, phase: 0.4, age, consistent });
    const verdict = judged(bookOf([bare], { consistent, age: age * 1e6 }), rows, { method: 'heated' })
      .windows[0];
    expect(verdict?.tripPoint?.low).toBeCloseTo(low, 6);
    expect(verdict?.tripPoint?.high).toBeCloseTo(high, 6);
    expect(verdict?.outcome).toBe('pass');
  }
});
