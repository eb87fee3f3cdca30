/** Decoding against published bytes, bounds by hand arithmetic, the read plan, and the order of the sources. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  columnsOf,
  FLAGS,
  instant,
  type Reading,
  rowsIn,
  SECOND,
  type SignalId,
} from '../../../src/measure/index.ts';
import {
  type Answer,
  type ByteOrder,
  createDecoder,
  createMerge,
  type Decoding,
  decodeValue,
  decodeWords,
  isBitTable,
  numberIn,
  type OpcUaSource,
  planReads,
  type SignalDef,
  statusQuality,
  type Table,
} from '../../../src/signal/index.ts';
import { polled } from './rig.ts';

const id = (index: number): SignalId => index as SignalId;

const def = (index: number, decoding: Decoding, more: Partial<SignalDef> = {}): SignalDef => ({
  id: id(index),
  name: `s${index}`,
  source: 0,
  address: { kind: 'modbus', table: 'holding', at: index },
  decoding,
  quantity: 'rotational-speed',
  unit: 'rpm',
  states: [],
  resolution: 0.1,
  accuracy: 0,
  age: 50_000,
  agedAfter: SECOND,
  ...more,
});

const number = (
  type: 'uint16' | 'int16' | 'uint32' | 'int32' | 'float32' | 'float64',
  order: ByteOrder = 'ABCD',
  scale = 1,
  faults: number[] = [],
): Decoding => ({
  as: 'number',
  type,
  order,
  scale,
  offset: 0,
  faults,
});

/** IEEE 754 in four byte orders; the words are the printed bytes in pairs. Source: recomputed, as in general use. */
test.each([
  [123.456, ['42F6 E979', 'E979 42F6', 'F642 79E9', '79E9 F642']],
  [80, ['42A0 0000', '0000 42A0', 'A042 0000', '0000 A042']],
  [-12.5, ['C148 0000', '0000 C148', '48C1 0000', '0000 48C1']],
  [250, ['437A 0000', '0000 437A', '7A43 0000', '0000 7A43']],
  [Math.PI, ['4049 0FDB', '0FDB 4049', '4940 DB0F', 'DB0F 4940']],
] as [number, string[]][])('float %s in four orders', (value, texts) => {
  (['ABCD', 'CDAB', 'BADC', 'DCBA'] as const).forEach((order, index) => {
    const words = texts[index]!.split(' ').map((word) => Number.parseInt(word, 16));
    expect(numberIn(words, 'float32', order)).toBe(Math.fround(value));
  });
});

test('the wrong order of 123.456 is a number nobody measures, and outside any plausible range', () => {
  expect(numberIn([0xe979, 0x42f6], 'float32', 'ABCD')).toBeCloseTo(-1.8833671e25, -18);
  const speed = def(0, number('float32'), { plausible: { low: 0, high: 200 } });
  expect(decodeWords(speed, [0xe979, 0x42f6])).toEqual({ absent: 'implausible' });
});

test('NaN and infinity never compare as below a trip', () => {
  for (const high of [0x7fc0, 0x7f80, 0xff80])
    expect(decodeWords(def(0, number('float32')), [high, 0])).toEqual({ absent: 'implausible' });
});

/** Modbus Application Protocol V1.1b3, 6.3: registers 108–110 are 555, 0, 100; int16 FFFF = −1, uint32 0001 2345 = 74565. */
test('integers as the protocol shows them', () => {
  expect([0x022b, 0, 0x64].map((word) => numberIn([word], 'uint16', 'ABCD'))).toEqual([555, 0, 100]);
  expect(numberIn([0xffff], 'int16', 'ABCD')).toBe(-1);
  expect(numberIn([0x8000], 'int16', 'ABCD')).toBe(-32_768);
  expect(numberIn([0x0001, 0x2345], 'uint32', 'ABCD')).toBe(74_565);
});

test('half a step and the accuracy stand on each side; a fault code is no value; a wire turned round is turned back', () => {
  const speed = def(0, number('uint16', 'ABCD', 0.1, [65_535]), { accuracy: 0.2 });
  const decoded = decodeWords(speed, [787]);
  expect('value' in decoded && decoded.value.low).toBeCloseTo(78.45, 9);
  expect('value' in decoded && decoded.value.high).toBeCloseTo(78.95, 9);
  expect(decodeWords(speed, [65_535])).toEqual({ absent: 'sensor-fault' });
  const contact = def(
    0,
    { as: 'bit', bit: 7, inverted: true },
    { states: ['aligned', 'displaced'], quantity: 'state' },
  );
  expect(decodeWords(contact, [0x80])).toEqual({ value: { low: 0, high: 0 } });
  expect(decodeWords(contact, [0])).toEqual({ value: { low: 1, high: 1 } });
});

test('decoders never throw', () => {
  const types = ['uint16', 'int16', 'uint32', 'int32', 'float32', 'float64'] as const;
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 0, max: 0xffff }), { maxLength: 5 }),
      fc.constantFrom(...types),
      fc.double(),
      (words, type, value) => {
        decodeWords(def(0, number(type)), words);
        decodeWords(def(0, { as: 'bit', bit: 3, inverted: false }, { states: ['a', 'b'] }), words);
        decodeValue(def(0, { as: 'value', scale: 1, offset: 0, inverted: false }), value);
      },
    ),
  );
});

/** OPC 10000-4, 7.39.1: severity in the top two bits, "Bad never used"; codes from UA-Nodeset Schema/StatusCode.csv. */
test.each([
  [0x0000_0000, 'good', 0],
  [0x0000_0480, 'good', FLAGS.overflow],
  [0x0096_0000, 'good', FLAGS.forced],
  [0x4091_0000, 'uncertain', FLAGS.forced | FLAGS.uncertain],
  [0x4208_0000, 'uncertain', FLAGS.forced | FLAGS.uncertain],
  [0x4209_0000, 'uncertain', FLAGS.forced | FLAGS.uncertain],
  [0x4090_0000, 'uncertain', FLAGS.uncertain],
  [0x8005_0000, 'bad', 0],
  [0xc000_0000, 'bad', 0],
])('status %i', (code, severity, flags) => {
  expect(statusQuality(code)).toEqual({ severity, flags });
});

const source = polled({ scan: 50_000, maxGap: 2 });

const at = (index: number, table: Table, address: number, type: 'uint16' | 'uint32' = 'uint16'): SignalDef =>
  def(index, number(type), { address: { kind: 'modbus', table, at: address } });

test('adjacent addresses travel together; what the limits cut is cut between values; tables stay apart', () => {
  const defs = [
    at(0, 'holding', 0),
    at(1, 'holding', 1, 'uint32'),
    at(2, 'holding', 5),
    at(3, 'holding', 40),
    at(4, 'coil', 3),
    at(5, 'coil', 4),
  ];
  const plan = planReads(defs, [source], []);
  expect(plan.requests.map(({ table, at: first, count }) => [table, first, count])).toEqual([
    ['holding', 0, 6],
    ['holding', 40, 1],
    ['coil', 3, 2],
  ]);
  expect(isBitTable(defs[4]!)).toBe(true);
  const wide = Array.from({ length: 100 }, (_, index) => at(index, 'holding', index * 2, 'uint32'));
  const cut = planReads(wide, [source], []).requests;
  expect(cut.map((one) => one.count)).toEqual([124, 76]);
  expect(cut.every((one) => one.at % 2 === 0)).toBe(true);
});

test('an answer was true from the question less its age to the answer; a refused address is no value', () => {
  const defs = [at(0, 'holding', 0), at(1, 'holding', 1)];
  const decoder = createDecoder(defs, [source], planReads(defs, [source], []));
  const answer: Answer = {
    kind: 'words',
    source: 0,
    request: 0,
    sent: instant(1_000_000),
    received: instant(1_004_000),
    words: [960, -1],
  };
  const [one, two] = decoder.feed(answer);
  expect(one).toMatchObject({
    at: { earliest: 950_000, latest: 1_004_000 },
    value: { low: 959.95, high: 960.05 },
  });
  expect(two?.absent).toBe('refused');
  expect(decoder.feed({ ...answer, words: [960, 1] })[0]?.response).toBeGreaterThan(0);
});

test('a request that was asked in parts: each answer tells its own part, and shares its instant with no other', () => {
  const defs = [at(0, 'holding', 0), at(1, 'holding', 1), at(2, 'holding', 2)];
  const decoder = createDecoder(defs, [source], planReads(defs, [source], []));
  const part = { kind: 'words', source: 0, request: 0, sent: instant(0), received: instant(9) } as const;
  const first = decoder.feed({ ...part, words: [1, 2, -2] });
  const second = decoder.feed({ ...part, words: [-2, -2, 3] });
  expect([first, second].map((found) => found.map((one) => one.signal))).toEqual([[0, 1], [2]]);
  expect(first[0]?.response).toBe(first[1]?.response);
  expect(first[0]?.response).not.toBe(second[0]?.response);
  expect(decoder.feed({ ...part, words: [-2, -1, -2] })).toMatchObject([{ signal: 1, absent: 'refused' }]);
});

/** Counting n pulses over a gate T at P targets resolves 60 / (P × T) rpm: 41 rpm, 4 targets, 1 s: 15 rpm (general practice). */
test('a speed from counts is as coarse as its gate, and survives the roll-over', () => {
  const counted = def(
    0,
    {
      as: 'pulse-count',
      type: 'uint16',
      order: 'ABCD',
      rollover: 65_536,
      unitsPerPulsePerSecond: 15,
      gate: SECOND,
    },
    { age: 0 },
  );
  const plan = planReads([counted], [source], []);
  const decoder = createDecoder([counted], [source], plan);
  const feed = (t: number, count: number) =>
    decoder.feed({
      kind: 'words',
      source: 0,
      request: 0,
      sent: instant(t),
      received: instant(t),
      words: [count % 65_536],
    })[0];
  expect(feed(0, 65_535)?.absent).toBe('not-polled');
  const reading = feed(SECOND, 65_535 + 3);
  expect(reading?.value).toEqual({ low: 30, high: 60 });
  expect((reading?.value?.low ?? 0) < 41 && 41 < (reading?.value?.high ?? 0)).toBe(true);
});

const ua: OpcUaSource = {
  protocol: 'opc-ua',
  name: 'ua',
  endpoint: 'e',
  access: { mode: 'none', policy: 'Basic256Sha256', user: { kind: 'anonymous' } },
  sampling: 50_000,
  publishing: 100_000,
  queue: 10,
  timeout: SECOND,
  scan: 20_000,
  clockBound: 20_000,
};

/** OPC 10000-4, 7.11: the source timestamp is the time of the value; a bad status is never used. */
test('an item stands at its source time, within the clock; bad status is no value', () => {
  const value = def(
    0,
    { as: 'value', scale: 1, offset: 0, inverted: false },
    { address: { kind: 'opc-ua', namespace: '', id: 's=x' }, age: 0 },
  );
  const decoder = createDecoder([value], [ua], planReads([value], [ua], []));
  const items = (status: number, number_: number | null, received = 2_000_000): Answer => ({
    kind: 'items',
    source: 0,
    received: instant(received),
    items: [{ signal: id(0), status, value: number_, sourceTime: instant(received - 100_000) }],
  });
  // What comes first tells of what is: its source time is that of a change before anybody asked.
  expect(decoder.feed(items(0, 95, 1_000_000))[0]).toMatchObject({
    at: { earliest: 850_000, latest: 1_000_000 },
  });
  expect(decoder.feed(items(0, 96))[0]).toMatchObject({
    at: { earliest: 1_880_000, latest: 1_920_000 },
    value: { low: 95.95, high: 96.05 },
  });
  expect(decoder.feed(items(0x8005_0000, 96))[0]?.absent).toBe('bad-status');
  expect(decoder.feed(items(0, null))[0]?.absent).toBe('bad-status');
});

const row = (signal: number, latest: number): Reading => ({
  signal: id(signal),
  at: { earliest: instant(latest - 10), latest: instant(latest) },
  response: 0,
  flags: 0,
  value: { low: 1, high: 1 },
});

test('the merge waits for the slowest source, keeps the order, and calls late what comes behind', () => {
  const merge = createMerge([0, 100]);
  merge.push(0, columnsOf([row(0, 1_000)]), 1_000);
  expect(rowsIn(merge.release())).toEqual([]);
  merge.push(1, columnsOf([row(1, 900)]), 1_050);
  expect(rowsIn(merge.release()).map((one) => one.signal)).toEqual([1]);
  merge.push(1, columnsOf([row(1, 1_005)]), 1_200);
  expect(rowsIn(merge.release()).map((one) => one.signal)).toEqual([0]);
  merge.push(0, columnsOf([row(0, 1_100)]), 1_100);
  expect(rowsIn(merge.release()).map((one) => [one.signal, one.at.latest])).toEqual([
    [1, 1_005],
    [0, 1_100],
  ]);
  merge.push(1, columnsOf([row(1, 1_050)]), 1_300);
  merge.push(0, columnsOf([]), 1_400);
  expect(rowsIn(merge.release()).map((one) => one.absent)).toEqual(['late']);
});
