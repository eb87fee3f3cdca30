/** What the planner says of a value behind a sensor's curve, or of pulses counted by the controller, held against the decoder. */
import { describe, expect, test } from 'vitest';
import { feasibility } from '../../../src/rulebook/index.ts';
import { decodeWords, type SignalDef } from '../../../src/signal/index.ts';
import { speedFromGate } from '../../../src/signal/pulses.ts';
import { PLATINUM, THERMOCOUPLES } from '../../../src/signal/thermometers.ts';
import { bookOf } from './site-rig.ts';

const PACK = `kind: leg
roles:
  temperature: { quantity: temperature, purpose: measurement }
  command: { states: [stop, run], purpose: command }
interlocks:
  stop:
    hazard: fire
    cause: { signal: temperature, above: 80 degC, tolerance: 1 K }
    effects: [{ signal: command, becomes: stop, within: 30 s }]
`;

const site = (tag: string, kind = 'temperature') => `site: mill
sources:
  s: { protocol: modbus-tcp, host: h, poll: 100 ms, scan: 10 ms }
tags:
  E1.${kind}: { source: s, address: hr:0, ${tag} }
  E1.command: { source: s, address: coil:0 }
machines:
  E1: { kind: leg, nameplate: { ${kind === 'speed' ? 'speed: 60 rpm' : 'temperature: 60 degC'} } }
rules: [leg.yaml]
`;

const planned = (tag: string) => {
  const book = bookOf(site(tag), PACK);
  const [plan] = feasibility(book);
  const signal = book.signals.find(({ name }) => name === 'E1.temperature');
  if (plan === undefined || signal === undefined) throw new Error('no plan');
  return { plan, signal };
};

/** Widest reading and farthest bound over the whole plausible range, of a register that rounds to its step. */
const seen = (signal: SignalDef, from: number, to: number, rawAt: (t: number) => number) => {
  let [widest, farthest] = [0, 0];
  for (let t = from; t <= to; t += (to - from) / 2_000) {
    const decoded = decodeWords(signal, [Math.round(rawAt(t)) & 0xffff]);
    if (!('value' in decoded)) continue;
    widest = Math.max(widest, decoded.value.high - decoded.value.low);
    farthest = Math.max(farthest, t - decoded.value.low, decoded.value.high - t);
    expect(decoded.value.low).toBeLessThanOrEqual(t);
    expect(decoded.value.high).toBeGreaterThanOrEqual(t);
  }
  return { widest, farthest };
};

describe('behind a curve', () => {
  test.each([
    [
      'Pt100, a tenth of an ohm',
      'type: uint16, scale: 0.1, curve: pt100',
      (t: number) => 1_000 * PLATINUM.at(t),
    ],
    [
      'type K, ten microvolts',
      'type: int16, scale: 0.01, curve: thermocouple-k',
      (t: number) => 100 * THERMOCOUPLES.K.at(t),
    ],
    [
      'type J, a hundredth of a millivolt and a hundredth of error',
      'type: int16, scale: 0.01, curve: thermocouple-j, accuracy: 0.01 mV',
      (t: number) => 100 * THERMOCOUPLES.J.at(t),
    ],
    [
      '4-20 mA, a hundredth',
      'type: uint16, scale: 0.01, loop: [-20 degC, 180 degC]',
      (t: number) => 100 * (4 + (16 * (t + 20)) / 200),
    ],
  ])(
    '%s: no reading is wider or farther off than planned, and the plan is not much wider',
    (_, tag, rawAt) => {
      const { plan, signal } = planned(`${tag}, unit: degC, plausible: [-20 degC, 180 degC]`);
      const { widest, farthest } = seen(signal, -20, 180, rawAt);
      const reading = signal.resolution + 2 * signal.accuracy;
      expect(plan.tripPoint?.reach).toBeCloseTo(reading, 9);
      expect(widest).toBeLessThanOrEqual(reading + 1e-6);
      expect(widest).toBeGreaterThan(0.98 * reading);
      expect(farthest).toBeLessThanOrEqual(reading + 1e-6);
    },
  );

  test('a resolution declared behind the curve is taken as it is', () => {
    const { signal } = planned(
      'type: uint16, scale: 0.1, curve: pt100, unit: degC, resolution: 0.5 degC, plausible: [-20 degC, 180 degC]',
    );
    const { widest } = seen(signal, -20, 180, (t) => 1_000 * PLATINUM.at(t));
    expect(signal.resolution).toBe(0.5);
    expect(widest).toBeCloseTo(0.5, 6);
  });
});

/** Frequency counting: one count of 4 targets in 1 s is 15 rpm; each way one of doubt, and the count one off. */
test('pulses counted by the controller: no speed is farther off than planned, and a longer gate would do', () => {
  const pack = PACK.replace(
    'temperature: { quantity: temperature',
    'speed: { quantity: rotational-speed',
  ).replace(
    'signal: temperature, above: 80 degC, tolerance: 1 K',
    'signal: speed, below: 40 rpm, tolerance: 10 rpm',
  );
  const planOf = (long: string) => {
    const text = site(`pulses: gate-count, gate: ${long}, targets-per-revolution: 4, unit: rpm`, 'speed');
    const book = bookOf(text, pack);
    const [plan] = feasibility(book);
    const signal = book.signals.find(({ name }) => name === 'E1.speed');
    if (plan === undefined || signal === undefined) throw new Error('no plan');
    return { plan, signal };
  };
  const { plan, signal } = planOf('1 s');
  expect(plan.pulses?.step).toBe(15);
  expect(plan.tripPoint?.reach).toBe(30);
  const { decoding } = signal;
  if (decoding.as !== 'pulse-gate') throw new Error('not counted in gates');
  let [widest, farthest] = [0, 0];
  for (let part = 0; part < 100; part += 1) {
    const count = Math.floor((40 * 4) / 60 + part / 100);
    const { decoded } = speedFromGate(signal, decoding, [count], 0);
    if (!('value' in decoded)) continue;
    expect(decoded.value.low).toBeLessThanOrEqual(40);
    expect(decoded.value.high).toBeGreaterThanOrEqual(40);
    widest = Math.max(widest, decoded.value.high - decoded.value.low);
    farthest = Math.max(farthest, 40 - decoded.value.low, decoded.value.high - 40);
  }
  expect(widest).toBe(30);
  expect(farthest).toBeLessThanOrEqual(30);
  const told = plan.undecidable.find(({ code }) => code === 'pulses-too-coarse');
  const gate = Number(told?.params['gate']);
  expect(gate).toBeGreaterThan(1);
  expect(planOf(`${gate} s`).plan.undecidable.map(({ code }) => code)).not.toContain('pulses-too-coarse');
});
