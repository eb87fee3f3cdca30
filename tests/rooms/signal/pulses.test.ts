/** What a speed from pulses may claim: when it was so, and how long counts stay comparable. */
import { expect, test } from 'vitest';
import { instant, SECOND, type SignalId } from '../../../src/measure/index.ts';
import {
  type Answer,
  createDecoder,
  type Decoding,
  planReads,
  type SignalDef,
} from '../../../src/signal/index.ts';
import { polled } from './rig.ts';

const source = polled({ maxGap: 4 });

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

/** 30 pulses a second, roll-over at 10: it goes round six times in the gate of 2 s, and 3 pulses come from poll to poll. */
test('a counter may go round as often as it likes within a gate', () => {
  const feed = feeder([def(0, 0, { ...counter(2 * SECOND), rollover: 10 } as Decoding)]);
  let last: ReturnType<typeof feed>[number] | undefined;
  for (let ms = 0; ms <= 4_000; ms += 100) last = feed(ms * 1_000, [Math.floor((30 * ms) / 1_000) % 10])[0];
  expect(last?.value).toEqual({ low: 59 / 2, high: 61 / 2 });
});

test('a counter that begins anew gives no speed, then counts from there', () => {
  const feed = feeder([def(0, 0, counter(SECOND))]);
  for (let ms = 0; ms <= 2_000; ms += 100) feed(ms * 1_000, [40_000 + ms / 10]);
  expect(feed(2_100_000, [3])[0]?.absent).toBe('implausible');
  const after = Array.from(
    { length: 11 },
    (_, poll) => feed(2_200_000 + poll * 100_000, [13 + poll * 10])[0],
  );
  expect(after.slice(0, 9).every((one) => one?.absent === 'not-polled')).toBe(true);
  expect(after.at(-1)?.value).toEqual({ low: 99, high: 101 });
});

test('what no plausible speed can give is a new beginning, and a counter that may have gone round is not compared', () => {
  const slow = {
    ...def(0, 0, { ...counter(SECOND), rollover: 256 } as Decoding),
    plausible: { low: 0, high: 50 },
  };
  const feed = feeder([slow]);
  for (let ms = 0; ms <= 1_000; ms += 100) feed(ms * 1_000, [ms / 100]);
  // 100 pulses in 0.1 s, where 5 are possible: half a round would not have told.
  expect(feed(1_100_000, [110])[0]?.absent).toBe('implausible');
  const quick = { ...counter(100_000), rollover: 256 } as Decoding;
  const again = feeder([{ ...def(0, 0, quick), plausible: { low: 0, high: 2_000 } }]);
  // 200 pulses can pass in 0.1 s: within one round of 256; 600 in 0.3 s are not.
  again(0, [0]);
  expect(again(100_000, [200])[0]?.value).toBeDefined();
  expect(again(400_000, [210])[0]?.absent).toBe('not-polled');
});

test('a count beyond its roll-over is a wrong roll-over; fault codes and wrong digits are no counts', () => {
  const decimal = { ...counter(SECOND), type: 'bcd16', rollover: 10_000, faults: [9_999] } as Decoding;
  const feed = feeder([def(0, 0, decimal)]);
  expect(feed(0, [0x12a0])[0]?.absent).toBe('implausible');
  expect(feed(0, [0x9999])[0]?.absent).toBe('sensor-fault');
  for (let ms = 0; ms < 1_000; ms += 100) feed(ms * 1_000, [0x9990 + ms / 100 - (ms > 900 ? 6 : 0)]);
  expect(feed(1_000_000, [0x0000])[0]?.value).toEqual({ low: 9, high: 11 });
  const wrong = feeder([def(0, 0, { ...counter(SECOND), rollover: 10_000 } as Decoding)]);
  expect(wrong(0, [12_000])[0]?.absent).toBe('implausible');
});

/** Frequency counting by the controller: 60 / (4 × 1 s) = 15 rpm a count; 3 counts are more than 2 and fewer than 4. */
test('a count of each gate is two counts wide, and began up to two gates ago', () => {
  const gated = def(0, 0, {
    as: 'pulse-gate',
    type: 'uint16',
    order: 'ABCD',
    unitsPerPulsePerSecond: 15,
    gate: SECOND,
    faults: [65_535],
  });
  const feed = feeder([gated]);
  const [reading] = feed(10 * SECOND, [3]);
  expect(reading?.value).toEqual({ low: 30, high: 60 });
  expect(reading?.at).toEqual({ earliest: 8 * SECOND, latest: 10 * SECOND });
  expect(feed(11 * SECOND, [0])[0]?.value).toEqual({ low: 0, high: 15 });
  expect(feed(12 * SECOND, [65_535])[0]?.absent).toBe('sensor-fault');
});

/** The truth is counted in whole gates at random phases; the answer is read while the next gate fills. */
test('the speed of a counted gate holds a speed that was there in its time', () => {
  for (let phase = 0; phase < 50; phase += 1) {
    const gate = SECOND;
    const feed = feeder([
      def(0, 0, { as: 'pulse-gate', type: 'uint16', order: 'ABCD', unitsPerPulsePerSecond: 1, gate }),
    ]);
    const passed = (t: number): number => Math.floor(100 * t - 5 * t * t + phase / 50);
    const from = phase / 50;
    const read = from + 1 + 0.98;
    const [reading] = feed(read * SECOND, [passed(from + 1) - passed(from)]);
    const speed = (t: number): number => 100 - 10 * t;
    expect(reading?.value?.low).toBeLessThanOrEqual(speed((reading?.at.earliest ?? 0) / SECOND));
    expect(reading?.value?.high).toBeGreaterThanOrEqual(speed(from + 1));
  }
});
