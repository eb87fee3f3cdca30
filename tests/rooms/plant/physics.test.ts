import { expect, test } from 'vitest';
import { HAND_COMMAND, type HandCommand, simulate } from '../../../src/plant/index.ts';
import { advance, applyHand, createModel, truthOf } from '../../../src/plant/model/index.ts';
import { at, INJECT, POLL, run, START, when } from './script.ts';

const SECOND = 1_000_000;
const running = (seed = 7, noise = 0.0003) => {
  const model = createModel({ seed, noise });
  advance(model, SECOND);
  for (const machine of ['E1', 'C2'] as const) applyHand(model, { do: 'start', machine });
  advance(model, 9 * SECOND);
  return model;
};

test('the same seed gives the same plant, another seed another', () => {
  const bytes = (seed: number) => JSON.stringify(simulate({ seed }, START, 6, POLL));
  expect(bytes(3)).toBe(bytes(3));
  expect(bytes(3)).not.toBe(bytes(4));
});

test('how time is portioned out changes nothing', () => {
  const after = (portion: number) => {
    const model = createModel({ seed: 5 });
    applyHand(model, { do: 'start', machine: 'E1' });
    for (let done = 0; done < 8 * SECOND; done += portion) advance(model, portion);
    return JSON.stringify([model.image, truthOf(model), model.scans]);
  };
  expect(after(1_000)).toBe(after(8 * SECOND));
  expect(after(5_000)).toBe(after(40_000));
});

test('scans keep their cycle on average, and each is early or late by no more than the jitter', () => {
  const model = createModel({ seed: 2, scan: 20_000, jitter: 2_000 });
  const times: number[] = [];
  for (let t = 0; t < 4 * SECOND; t += 100) {
    const before = model.scans;
    advance(model, 100);
    if (model.scans !== before) times.push(model.scannedAt);
  }
  expect(times.length).toBeGreaterThan(198);
  for (const [index, time] of times.entries()) {
    expect(Math.abs(time - (index + 1) * 20_000)).toBeLessThanOrEqual(2_000);
  }
  expect(new Set(times.map((time, index) => time - index * 20_000)).size).toBeGreaterThan(50);
});

test('a controller whose scans could change places is refused', () => {
  expect(() => createModel({ seed: 1, scan: 20_000, jitter: 10_000 })).toThrow(RangeError);
});

test('the motor accelerates to its nominal speed in 2.5 s and coasts to rest in 3 s', () => {
  const model = createModel({ seed: 1 });
  applyHand(model, { do: 'start', machine: 'E1' });
  advance(model, 1.5 * SECOND);
  const half = truthOf(model)['E1.head-speed']!;
  expect(half).toBeGreaterThan(50);
  expect(half).toBeLessThan(58);
  advance(model, 2 * SECOND);
  expect(truthOf(model)['E1.head-speed']).toBe(96);
  applyHand(model, { do: 'stop', machine: 'E1' });
  advance(model, 1.5 * SECOND);
  expect(truthOf(model)['E1.head-speed']).toBeGreaterThan(40);
  advance(model, 2 * SECOND);
  expect(truthOf(model)['E1.head-speed']).toBe(0);
});

test('four targets at 96 rpm are 384 pulses a minute, one every 156.25 ms', () => {
  const model = running(7, 0);
  const before = model.image['E1.pulse-count']!;
  advance(model, 60 * SECOND);
  expect(Math.abs(model.image['E1.pulse-count']! - before - 384)).toBeLessThanOrEqual(1);
  expect(model.image['E1.pulse-period']).toBeCloseTo(156.25, 2);
});

test('a slipping belt lowers the shaft that it turns, not the head shaft', () => {
  const image = at(run([[9, { do: 'slip', machine: 'E1', share: 0.12 }]], 10), 10);
  expect(image['E1.shaft-speed']).toBeCloseTo(96 * 0.88, 0);
  expect(image['E1.head-speed']).toBeCloseTo(96, 0);
});

test('one covered target of four doubles one gap: half the speed by periods, not three quarters', () => {
  const samples = run([[9, { do: 'block', machine: 'C2', target: 'one' }]], 12);
  const lowest = Math.min(
    ...samples.filter(({ at: t }) => t > 9e6).map(({ image }) => image['C2.shaft-speed']!),
  );
  expect(lowest).toBeGreaterThan(29);
  expect(lowest).toBeLessThan(31);
});

test('a bearing warms towards its running temperature with its time constant, and cools at rest', () => {
  const model = running();
  const goal = 18 + 22;
  const first = goal - truthOf(model)['E1.bearing']!;
  advance(model, 600 * SECOND);
  // After one time constant 36.8 % of the distance is left (exp(-1)).
  expect((goal - truthOf(model)['E1.bearing']!) / first).toBeCloseTo(0.368, 2);
  applyHand(model, { do: 'stop', machine: 'E1' });
  advance(model, 3_600 * SECOND);
  expect(truthOf(model)['E1.bearing']).toBeLessThan(19);
});

test('a probe is heated at its rate while the bearing itself stays as it is, and cooled the same way', () => {
  const model = running();
  const bearing = truthOf(model)['E1.bearing']!;
  applyHand(model, { do: 'probe-out', machine: 'E1' });
  const from = truthOf(model)['E1.probe']!;
  applyHand(model, { do: 'heat', machine: 'E1', to: 60, rate: 2 });
  advance(model, 5 * SECOND);
  expect(truthOf(model)['E1.probe']! - from).toBeCloseTo(10, 6);
  applyHand(model, { do: 'heat', machine: 'E1', to: 30, rate: 5 });
  advance(model, 10 * SECOND);
  expect(truthOf(model)['E1.probe']).toBe(30);
  expect(truthOf(model)['E1.bearing']).toBeCloseTo(bearing, 0);
});

test('a belt that wanders presses the contact, and lets it go nearer to the middle', () => {
  const samples = run(
    [
      [9, { do: 'wander', machine: 'E1', to: 40, rate: 20 }],
      [10.8, { do: 'wander', machine: 'E1', to: 0, rate: 20 }],
    ],
    14,
  );
  const opened = when(samples, 'E1.alignment', 1);
  expect(opened).toBeGreaterThan(9 + (25 - 3) / 20 - 0.01);
  expect(opened).toBeLessThan(9 + (25 + 3) / 20 + 0.05);
  const closed = when(samples, 'E1.alignment', 0, opened);
  expect(closed).toBeGreaterThan(10.8);
  expect(closed).toBeLessThan(12.5);
});

test('an undisturbed belt sways and never presses the contact', () => {
  const model = running();
  let [low, high] = [0, 0];
  for (let t = 0; t < 120; t += 1) {
    advance(model, SECOND);
    low = Math.min(low, truthOf(model)['E1.belt-offset']!);
    high = Math.max(high, truthOf(model)['E1.belt-offset']!);
    expect(model.image['E1.alignment']).toBe(0);
  }
  expect(high - low).toBeGreaterThan(4);
});

test('the injector ramps exactly in time while the machine runs on', () => {
  const samples = run([...INJECT, [12, { do: 'ramp', machine: 'E1', percent: 84, rate: 1 }]], 30);
  // After 8 s at 1 %/s: 92 %; a period of pulses lies in the past by up to 0.17 s.
  expect(at(samples, 20)['E1.shaft-speed']! / 96).toBeGreaterThan(0.9195);
  expect(at(samples, 20)['E1.shaft-speed']! / 96).toBeLessThan(0.9235);
  expect(at(samples, 29)['E1.shaft-speed']! / 96).toBeCloseTo(0.84, 3);
  expect(at(samples, 29)['E1.head-speed']).toBeCloseTo(96, 0);
});

test('a ramp is held where it is, and the injector hands back without a gap', () => {
  const samples = run(
    [
      ...INJECT,
      [12, { do: 'ramp', machine: 'E1', percent: 70, rate: 2 }],
      [15, { do: 'hold', machine: 'E1' }],
      [18, { do: 'step', machine: 'E1', percent: 100 }],
      [20, { do: 'injector', machine: 'E1', mode: 'off' }],
    ],
    24,
  );
  expect(at(samples, 17.9)['E1.shaft-speed']! / 96).toBeCloseTo(0.94, 2);
  const lowest = Math.min(
    ...samples.filter(({ at: t }) => t > 19e6).map(({ image }) => image['E1.shaft-speed']!),
  );
  expect(lowest).toBeGreaterThan(95);
});

test.each<[string, HandCommand]>([
  ['ramp', { do: 'ramp', machine: 'E1', percent: 80, rate: 1 }],
  ['hold', { do: 'hold', machine: 'E1' }],
  ['injecting without a normal', { do: 'injector', machine: 'E1', mode: 'injecting' }],
  ['heat', { do: 'heat', machine: 'E1', to: 80, rate: 1 }],
  ['an unknown fault', { do: 'program-change', fault: 'gremlins' }],
])('what hands cannot do is refused with the reason: %s', (_name, command) => {
  const answer = applyHand(running(), command);
  expect(answer.ok).toBe(false);
  expect(answer.ok ? '' : answer.error.length).toBeGreaterThan(10);
});

test('what a ramp may be is told by the schema: below nothing and to no number it is refused', () => {
  const ramp = { do: 'ramp', machine: 'E1', percent: 80, rate: 1 };
  expect(HAND_COMMAND.safeParse(ramp).success).toBe(true);
  for (const wrong of [{ percent: -1 }, { percent: Number.NaN }, { rate: 0 }, { rate: '1' }]) {
    expect(HAND_COMMAND.safeParse({ ...ramp, ...wrong }).success).toBe(false);
  }
});

test('an hour of plant takes seconds: at least 200 times the speed of a clock', () => {
  const began = process.hrtime.bigint();
  simulate({ seed: 1 }, START, 600, { every: 100_000, phase: 0 });
  expect(Number(process.hrtime.bigint() - began) / 1e9).toBeLessThan(3);
});
