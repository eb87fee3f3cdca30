/**
 * Time on a serial line against figures worked out by hand from Modbus over Serial Line V1.02 (2.5.1.1: a character
 * of 11 bits, 3.5 of them between frames, fixed at 1.75 ms above 19,200 baud), with 30 ms for the device: 10 registers
 * take 76, 53 and 43 ms at 9,600, 19,200 and 38,400 baud, 125 registers 339, 185 and 109 ms.
 */
import { expect, test } from 'vitest';
import type { SignalId } from '../../../src/measure/index.ts';
import {
  type Line,
  lineLoads,
  type ModbusSource,
  type Plan,
  placeOf,
  TURNAROUND,
  wireTime,
} from '../../../src/signal/index.ts';
import { polled } from './rig.ts';

const serial = (baud: number, more: Partial<Line & { kind: 'serial' }> = {}): Line => ({
  kind: 'serial',
  path: '/dev/ttyS0',
  baud,
  parity: 'even',
  dataBits: 8,
  stopBits: 1,
  ...more,
});

test.each([
  [9_600, 10, 76],
  [19_200, 10, 53],
  [38_400, 10, 43],
  [9_600, 125, 339],
  [19_200, 125, 185],
  [38_400, 125, 109],
])('%i baud, %i registers: %i ms', (baud, count, ms) => {
  const wire = wireTime(serial(baud), { table: 'holding', count });
  expect(Math.round((wire + TURNAROUND) / 1_000)).toBe(ms);
});

test('bits are packed; without parity a character is shorter; a gateway is reckoned with where its baud rate is said', () => {
  // 8 + 5 + 2 characters of 1.1458 ms and twice 4.0104 ms.
  expect(wireTime(serial(9_600), { table: 'coil', count: 16 })).toBeCloseTo(15 * 1_145.83 + 2 * 4_010.42, 0);
  expect(wireTime(serial(9_600, { parity: 'none' }), { table: 'coil', count: 16 })).toBeCloseTo(
    15 * 1_041.67 + 2 * 3_645.83,
    0,
  );
  const tcp: Line = { kind: 'tcp', host: 'gateway', port: 502 };
  expect(wireTime(tcp, { table: 'holding', count: 10 })).toBe(0);
  expect(wireTime({ ...tcp, serialBaud: 9_600 }, { table: 'holding', count: 10 })).toBe(
    wireTime(serial(9_600), { table: 'holding', count: 10 }),
  );
  expect([placeOf(tcp), placeOf(serial(9_600))]).toEqual(['gateway:502', '/dev/ttyS0']);
});

const unit = (index: number, more: Partial<ModbusSource> = {}): ModbusSource =>
  polled({ name: `u${index}`, line: serial(9_600), unit: index, poll: 200_000, ...more });

test('units at one place load one line; the heaviest window counts', () => {
  const request = (source: number, signal: number, count: number, pace: 'watch' | 'slow') =>
    ({ source, table: 'holding', at: 0, count, signals: [signal as SignalId], pace }) as const;
  const plan: Plan = {
    requests: [request(0, 0, 10, 'watch'), request(1, 1, 10, 'watch'), request(1, 2, 125, 'slow')],
    items: new Map(),
  };
  const ten = wireTime(serial(9_600), { table: 'holding', count: 10 });
  const many = wireTime(serial(9_600), { table: 'holding', count: 125 });
  const sources = [unit(0), unit(1, { pause: 10_000 })];
  const [watching] = lineLoads(sources, plan, []);
  expect(watching?.sources).toEqual([0, 1]);
  expect(watching?.least).toBeCloseTo(
    ten / 200_000 + (ten + 10_000) / 200_000 + (many + 10_000) / 1_000_000,
    9,
  );
  const [testing] = lineLoads(sources, plan, [[0 as SignalId], []]);
  expect(testing?.least).toBeCloseTo((watching?.least ?? 0) + ten / 200_000, 9);
  expect(testing?.usual).toBeCloseTo(
    (testing?.least ?? 0) + 30_000 * (1 / 100_000 + 1 / 200_000 + 1 / 1_000_000),
    9,
  );
});
