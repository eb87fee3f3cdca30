/** Speed from pulses and belt speed from the pulley, against handbook rows and the formulas of frequency counting. */
import { expect, test } from 'vitest';
import { convert, type Interval, instant, SECOND } from '../../src/measure/index.ts';
import type { Decoding, SignalDef } from '../../src/signal/index.ts';
import { type Speed, speedFromCount, speedFromPeriod } from '../../src/signal/pulses.ts';

/**
 * Spaced-bucket centrifugal elevators, Perry's Chemical Engineers' Handbook (rows from memory); v = π D n recomputed.
 * The row of 24 in is printed rounded up.
 */
test.each([
  [20, 43, 225, 225.15, 1.1437],
  [24, 41, 260, 257.61, 1.3087],
  [30, 38, 300, 298.45, 1.5161],
])('pulley of %i in at %i rpm: belt speed in ft/min and m/s', (inches, rpm, printed, feet, metres) => {
  const around = (convert(inches, 'in', 'm') ?? 0) * Math.PI;
  const perSecond = around * (convert(rpm, 'rpm', 'rev/s') ?? 0);
  expect(perSecond).toBeCloseTo(metres, 4);
  const perMinute = convert(perSecond, 'm/s', 'ft/min') ?? 0;
  expect(perMinute).toBeCloseTo(feet, 2);
  expect(Math.abs(perMinute / printed - 1)).toBeLessThan(0.01);
});

const def: SignalDef = {
  id: 0 as SignalDef['id'],
  name: 'speed',
  source: 0,
  address: { kind: 'trace' },
  decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
  quantity: 'rotational-speed',
  unit: 'rpm',
  states: [],
  resolution: 0,
  accuracy: 0,
  age: 0,
  agedAfter: SECOND,
};

const bounded = ({ decoded }: Speed): Interval | undefined =>
  'value' in decoded ? decoded.value : undefined;

/** Rotation at `rpm` counted over a gate of one second with exact times, for a shaft that began at `phase` of a pulse. */
const counted = (targets: number, rpm: number, phase: number): Interval | undefined => {
  const decoding: Decoding & { as: 'pulse-count' } = {
    as: 'pulse-count',
    type: 'uint16',
    order: 'ABCD',
    rollover: 65_536,
    unitsPerPulsePerSecond: 60 / targets,
    gate: SECOND,
  };
  const memory = { counts: [] };
  let decoded: Interval | undefined;
  for (const t of [0, 1]) {
    const count = Math.floor((rpm / 60) * targets * t + phase);
    const at = { earliest: instant(t * SECOND), latest: instant(t * SECOND), poll: SECOND };
    decoded = bounded(speedFromCount(def, decoding, memory, [count], at));
  }
  return decoded;
};

/**
 * Frequency counting over a gate Tg resolves 60 / (P Tg) rpm (textbook formula, no single source); figures for the row
 * of 41 rpm, recomputed. One count of doubt either way: the interval is two steps wide.
 */
test.each([
  [1, 60, 146],
  [2, 30, 73],
  [4, 15, 37],
  [8, 7.5, 18],
  [60, 1, 2.4],
])('%i targets, gate 1 s at 41 rpm: a step of %f rpm (%f %%)', (targets, step, percent) => {
  expect(Math.abs((step / 41) * 100 - percent)).toBeLessThan(0.5);
  let widest = 0;
  for (let part = 0; part < 50; part += 1) {
    const speed = counted(targets, 41, part / 50);
    expect(speed?.low).toBeLessThanOrEqual(41);
    expect(speed?.high).toBeGreaterThanOrEqual(41);
    widest = Math.max(widest, (speed?.high ?? 0) - (speed?.low ?? 0));
  }
  expect(widest).toBeCloseTo(2 * step, 9);
});

/** One target and a gate of 1 s cannot see a trip at 80 % of 41 rpm: running and tripped look alike. */
test('counting one pulse a turn over 1 s cannot tell 41 rpm from 32.8 rpm; 60 pulses a turn can', () => {
  const apart = (targets: number) =>
    (counted(targets, 32.8, 0.5)?.high ?? 0) < (counted(targets, 41, 0.5)?.low ?? 0);
  expect([apart(1), apart(2), apart(4), apart(8), apart(60)]).toEqual([false, false, false, false, true]);
});

const periodic = (raw: number, tick: number, perPulse: number): Interval | undefined => {
  const decoding: Decoding & { as: 'pulse-period' } = {
    as: 'pulse-period',
    type: 'uint32',
    order: 'ABCD',
    tick,
    unitsPerPulsePerSecond: perPulse,
  };
  return bounded(speedFromPeriod(def, decoding, [Math.floor(raw / 65_536), raw % 65_536], instant(0)));
};

/** Period and frequency at 41 rpm, recomputed: a timer in 0.1 ms shows the period, and the speed comes back within a tick. */
test.each([
  [1, 0.6833, 1463.4],
  [2, 1.3667, 731.7],
  [4, 2.7333, 365.9],
  [8, 5.4667, 182.9],
  [60, 41, 24.4],
])('%i targets at 41 rpm: %f Hz, a pulse each %f ms', (targets, hertz, milliseconds) => {
  expect(convert(41 * targets, 'pulses/min', 'Hz')).toBeCloseTo(hertz, 4);
  const period = 60_000 / (41 * targets);
  expect(period).toBeCloseTo(milliseconds, 1);
  const speed = periodic(Math.round(milliseconds * 10), 100, 60 / targets);
  expect(speed?.low).toBeLessThanOrEqual(41);
  expect(speed?.high).toBeGreaterThanOrEqual(41);
  expect(((speed?.high ?? 0) - (speed?.low ?? 0)) / 41).toBeLessThan(2.1 / (milliseconds * 10));
});

/**
 * Measurement forum (author withheld), recomputed: 3600 pulses a turn at 2500 rpm are 150 kHz; a 20 MHz time base counts
 * 133 or 134, that is 150 376 or 149 254 Hz. Scaled to ticks of 1 µs (a microsecond is the least tick): 133 ticks.
 */
test('a period of 133 or 134 ticks brackets the true frequency', () => {
  for (const raw of [133, 134]) {
    const speed = periodic(raw, 1, 1);
    expect(speed?.low).toBeLessThanOrEqual(1e6 / 133.333);
    expect(speed?.high).toBeGreaterThanOrEqual(1e6 / 133.333);
  }
  expect(1e6 / 133 / 50).toBeCloseTo(150.376, 3);
  expect(1e6 / 134 / 50).toBeCloseTo(149.254, 3);
});
