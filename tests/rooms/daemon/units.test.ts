/**
 * Units that a signal can be shown in. NIST SP 811 (2008), B.8: 1 ft = 3.048 E-01 m exactly, so 1 ft/min = 5.08 E-03 m/s
 * exactly; B.9: t/°C = (t/°F − 32)/1.8, T/K = t/°C + 273.15, T/K = (t/°F + 459.67)/1.8; of intervals 1 °F = 1/1.8 °C.
 */
import { describe, expect, test } from 'vitest';
import { unitChoices } from '../../../src/daemon/shown/units.ts';
import { convert, QUANTITY_KINDS, unitsOf } from '../../../src/measure/index.ts';
import type { Book } from '../../../src/rulebook/index.ts';

type Signal = Book['signals'][number];

const signal = (quantity: string, unit: string, more: object = {}): Signal =>
  ({
    id: 0,
    name: 's',
    quantity,
    unit,
    states: [],
    address: { kind: 'trace' },
    decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
    ...more,
  }) as unknown as Signal;
const choices = (one: Signal, others: readonly Signal[] = []) =>
  Object.fromEntries(
    unitChoices({ signals: [one, ...others] }, one).map(({ unit, factor, offset }) => [
      unit,
      [factor, offset],
    ]),
  );

test('the published factors, to the last digit', () => {
  expect(choices(signal('belt-speed', 'ft/min'))['m/s']).toEqual([5.08e-3, 0]);
  expect(choices(signal('belt-speed', 'm/s'))['ft/min']).toEqual([60_000 / 304.8, 0]);
  expect(choices(signal('temperature', 'degC'))).toEqual({
    degC: [1, 0],
    degF: [1.8, 32],
    K: [1, 273.15],
  });
  expect(choices(signal('temperature', 'degF'))['degC']).toEqual([1 / 1.8, -32 / 1.8]);
  const [factor, offset] = choices(signal('temperature', 'degF'))['K'] ?? [];
  expect(factor).toBe(1 / 1.8);
  expect(offset).toBeCloseTo(459.67 / 1.8, 12);
  expect(choices(signal('temperature', 'K'))).toMatchObject({ degC: [1, -273.15], degF: [1.8, -459.67] });
});

test('a difference and a rate are multiplied only', () => {
  const ambient = signal('temperature', 'degC', { id: 1 });
  const rise = (as: string): Signal =>
    signal('temperature', 'degC', { address: { kind: 'derived', from: { as, of: [1, 1] } } });
  for (const as of ['difference', 'spread', 'rate'])
    expect(choices(rise(as), [ambient])).toMatchObject({ degF: [1.8, 0], K: [1, 0] });
  expect(choices(rise('mean'), [ambient])).toMatchObject({ degF: [1.8, 32] });
});

describe('speed as pulses', () => {
  const pulses = (unit: string, quantity: string, unitsPerPulsePerSecond: number): Signal =>
    signal(quantity, unit, {
      decoding: { as: 'pulse-gate', type: 'uint16', order: 'ABCD', gate: 1, unitsPerPulsePerSecond },
    });

  test('4 targets a revolution: 96 rpm are 6.4 Hz and 384 pulses a minute', () => {
    const shown = choices(pulses('rpm', 'rotational-speed', 60 / 4));
    expect((shown['Hz']?.[0] ?? 0) * 96).toBeCloseTo(6.4, 12);
    expect((shown['pulses/min']?.[0] ?? 0) * 96).toBeCloseTo(384, 10);
  });

  test('a belt of which a pulse is half a metre: 2 m/s are 4 Hz', () => {
    expect((choices(pulses('m/s', 'belt-speed', 0.5))['Hz']?.[0] ?? 0) * 2).toBe(4);
  });

  test('without pulses there is no geometry, and no such choice', () => {
    expect(Object.keys(choices(signal('rotational-speed', 'rpm')))).toEqual(['rpm', 'rev/s']);
  });
});

test('every choice agrees with what is understood where people write units', () => {
  for (const kind of QUANTITY_KINDS)
    for (const unit of unitsOf(kind))
      for (const [to, [factor, offset]] of Object.entries(choices(signal(kind, unit))))
        for (const value of [-40, 0, 3.7])
          expect(value * (factor ?? 0) + (offset ?? 0)).toBeCloseTo(
            convert(value, unit, to) ?? Number.NaN,
            9,
          );
});
