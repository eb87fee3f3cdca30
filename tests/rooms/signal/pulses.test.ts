/** What a speed from pulses may claim: when it was so, and how long counts stay comparable. */
import { expect, test } from 'vitest';
import { instant, SECOND, type SignalId } from '../../../src/measure/index.ts';
import {
  type Answer,
  createDecoder,
  type Decoding,
  type ModbusSource,
  planReads,
  type SignalDef,
} from '../../../src/signal/index.ts';

const source: ModbusSource = {
  protocol: 'modbus',
  name: 'd',
  line: { kind: 'tcp', host: 'h', port: 502 },
  unit: 1,
  poll: 100_000,
  windowPoll: 100_000,
  slowPoll: 1_000_000,
  inFlight: 1,
  pause: 0,
  connection: 'shared',
  timeout: SECOND,
  scan: 0,
  scanConsistent: true,
  maxRegisters: 125,
  maxBits: 2_000,
  maxGap: 4,
};

const def = (id: number, at: number, decoding: Decoding): SignalDef => ({
  id: id as SignalId,
  name: `s${id}`,
  source: 0,
  address: { kind: 'modbus', table: 'holding', at },
  decoding,
  quantity: 'rotational-speed',
  unit: 'rpm',
  states: [],
  resolution: 0,
  accuracy: 0,
  age: 0,
  agedAfter: SECOND,
});

const counter = (gate: number): Decoding => ({
  as: 'pulse-count',
  type: 'uint16',
  order: 'ABCD',
  rollover: 65_536,
  unitsPerPulsePerSecond: 1,
  gate,
});
const word: Decoding = { as: 'number', type: 'uint16', order: 'ABCD', scale: 1, offset: 0, faults: [] };

const feeder = (defs: readonly SignalDef[]) => {
  const decoder = createDecoder(defs, [source], planReads(defs, [source], []));
  return (t: number, words: readonly number[]) => {
    const answer: Answer = {
      kind: 'words',
      source: 0,
      request: 0,
      sent: instant(t),
      received: instant(t),
      words,
    };
    return decoder.feed(answer);
  };
};

/** v(t) = 1000 − 100 t pulses/s; its count is the integral. Mean value: the mean over a gate was the speed once in it. */
test('a speed from counts was so at some time of its gate, not only at the last answer', () => {
  const feed = feeder([def(0, 0, counter(2 * SECOND))]);
  let seen = 0;
  for (let ms = 0; ms <= 8_000; ms += 100) {
    const t = ms / 1_000;
    const [reading] = feed(ms * 1_000, [Math.floor(1_000 * t - 50 * t * t)]);
    if (reading?.value === undefined) continue;
    seen += 1;
    const fastest = 1_000 - 100 * (reading.at.earliest / SECOND);
    const slowest = 1_000 - 100 * (reading.at.latest / SECOND);
    expect(reading.value.low).toBeLessThanOrEqual(fastest);
    expect(reading.value.high).toBeGreaterThanOrEqual(slowest);
  }
  expect(seen).toBeGreaterThan(50);
});

test('a speed from a period was so in that period, and a pulse has been awaited since', () => {
  const tick = 1_000;
  const feed = feeder([
    def(0, 0, { as: 'pulse-period', type: 'uint16', order: 'ABCD', tick, unitsPerPulsePerSecond: 60 }),
  ]);
  const [reading] = feed(10 * SECOND, [250]);
  expect(reading?.at.earliest).toBeLessThanOrEqual(10 * SECOND - 2 * 250 * tick);
});

/** 65 536 pulses pass in 65.536 s at 1000 pulses/s: the register then reads the same as if nothing had turned. */
test('after a silence in which the counter may have gone round, there is no speed until the gate has passed anew', () => {
  const feed = feeder([def(0, 0, counter(SECOND))]);
  for (let ms = 0; ms <= 2_000; ms += 100) feed(ms * 1_000, [ms]);
  const [reading] = feed(2 * SECOND + 65_536_000, [(2_000 + 65_536) % 65_536]);
  expect(reading?.absent).toBe('not-polled');
});

test('a gate of many polls is filled in the end', () => {
  const feed = feeder([def(0, 0, counter(30 * SECOND))]);
  let last: ReturnType<typeof feed>[number] | undefined;
  for (let ms = 0; ms <= 32_000; ms += 100) last = feed(ms * 1_000, [ms])[0];
  expect(last?.value).toBeDefined();
});

test('an answer that had to be put together shares no instant', () => {
  const feed = feeder([def(0, 0, word), def(1, 1, word), def(2, 2, word)]);
  expect(feed(SECOND, [1, 2, 3]).every((one) => one.response > 0)).toBe(true);
  expect(feed(2 * SECOND, [1, -1, 3]).map((one) => one.response)).toEqual([0, 0, 0]);
});
