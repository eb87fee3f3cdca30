import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  ABSENCES,
  type Absence,
  type Instant,
  type Readings,
  type SignalId,
} from '../../../src/measure/index.ts';
import { decodeAnswers, decodeReadings, encodeAnswers, encodeReadings } from '../../../src/record/index.ts';
import type { Answer, Item } from '../../../src/signal/index.ts';

// Microseconds from 1970 to 2100.
const time = fc.integer({ min: 0, max: 4_102_444_800_000_000 }).map((us) => us as Instant);
const why = fc.constantFrom(...ABSENCES.filter((absence): absence is Absence => absence !== ''));
const number = fc.nat(2_000);
/** Few signals, so that they come again. */
const few = fc.nat(4);
const item: fc.Arbitrary<Item> = fc.record(
  {
    signal: fc.oneof(few, number).map((id) => id as SignalId),
    // OPC UA status codes are 32 bits without a sign; -1: nothing to say.
    status: fc.oneof(fc.constant(-1), fc.integer({ min: 0, max: 0xffff_ffff })),
    value: fc.oneof(fc.constant(null), fc.double(), fc.float(), fc.maxSafeInteger(), fc.nat(3)),
    text: fc.string({ unit: 'binary' }),
    sourceTime: time,
    serverTime: time,
    unchanged: fc.boolean(),
    why,
  },
  { requiredKeys: ['signal', 'status', 'value'] },
);
const words = fc.array(fc.integer({ min: 0, max: 0xffff }), { maxLength: 125 });
/** One piece of a request; -2: the words of the others. */
const piece = fc
  .tuple(fc.nat(5), fc.array(fc.integer({ min: -1, max: 0xffff }), { maxLength: 9 }), fc.nat(5))
  .map(([from, own, behind]) => [
    ...Array.from({ length: from }, () => -2),
    ...own,
    ...Array.from({ length: behind }, () => -2),
  ]);
const granted = fc.record({
  signal: number.map((id) => id as SignalId),
  sampling: fc.nat(),
  queue: fc.nat(),
});
const answer: fc.Arbitrary<Answer> = fc.oneof(
  fc.record({
    kind: fc.constant('words' as const),
    source: number,
    request: fc.nat(3),
    sent: time,
    received: time,
    words: fc.oneof(words, piece, fc.array(fc.integer({ min: -2, max: 3 }), { maxLength: 9 })),
  }),
  fc.record({
    kind: fc.constant('terms' as const),
    source: number,
    received: time,
    publishing: fc.nat(),
    items: fc.array(granted),
  }),
  fc.record({
    kind: fc.constant('clock' as const),
    source: number,
    sent: time,
    received: time,
    theirs: time,
  }),
  fc.record({
    kind: fc.constant('nothing' as const),
    source: number,
    request: number,
    sent: time,
    received: time,
    why,
    code: fc.nat(255),
  }),
  fc.record({ kind: fc.constant('items' as const), source: number, received: time, items: fc.array(item) }),
);

describe('answers as a block', () => {
  test('come back exactly: every kind, doubles bit for bit', () => {
    fc.assert(
      fc.property(fc.array(answer), (answers) => {
        expect(decodeAnswers(encodeAnswers(answers))).toEqual(answers);
      }),
      { numRuns: 300 },
    );
  });

  test('minus zero and NaN are kept', () => {
    const items = [-0, Number.NaN, 5e-324].map((value) => ({ signal: 1 as SignalId, status: 0, value }));
    const back = decodeAnswers(encodeAnswers([{ kind: 'items', source: 0, received: 1 as Instant, items }]));
    const values = back?.flatMap((one) => (one.kind === 'items' ? one.items.map(({ value }) => value) : []));
    expect(values?.map((value) => Object.is(value, -0))).toEqual([true, false, false]);
    expect(values?.[1]).toBeNaN();
  });

  test('what the first version wrote is read as it was meant', () => {
    // Written once by the code of that version, with every field that it knew.
    const stored: { hex: string; answers: Answer[] } = JSON.parse(
      readFileSync(new URL('../../vectors/blocks/answers-1.json', import.meta.url), 'utf8'),
    );
    const bytes = Uint8Array.from(Buffer.from(stored.hex, 'hex'));
    expect(bytes[0]).toBe(1);
    expect(decodeAnswers(bytes)).toEqual(stored.answers);
    for (let length = 0; length < bytes.length; length += 1)
      expect(decodeAnswers(bytes.subarray(0, length))).toBeUndefined();
    fc.assert(
      fc.property(fc.nat(bytes.length - 1), fc.nat(255), (at, byte) => {
        decodeAnswers(bytes.with(at, byte));
      }),
    );
  });

  const sample = encodeAnswers(fc.sample(answer, { numRuns: 40, seed: 7 }));

  test('cut short anywhere, or with one byte behind, it is refused', () => {
    for (let length = 0; length < sample.length; length += 1)
      expect(decodeAnswers(sample.subarray(0, length))).toBeUndefined();
    for (const more of [0, 1, 255]) expect(decodeAnswers(Uint8Array.from([...sample, more]))).toBeUndefined();
  });

  test('another version is refused', () => {
    for (const version of [0, 1, 3, 255]) expect(decodeAnswers(sample.with(0, version))).toBeUndefined();
  });

  test('garbage never throws, and what is read from it can be written', () => {
    const garbage = fc.uint8Array({ maxLength: 300 });
    fc.assert(
      fc.property(garbage, fc.constantFrom(1, 2), (bytes, version) => {
        decodeAnswers(bytes);
        decodeAnswers(Uint8Array.from([version, ...bytes]));
        decodeReadings(bytes);
      }),
    );
    fc.assert(
      fc.property(fc.nat(sample.length - 1), fc.nat(255), (at, byte) => {
        const read = decodeAnswers(sample.with(at, byte));
        if (read === undefined) return;
        expect(read.length).toBeGreaterThan(0);
        expect(decodeAnswers(encodeAnswers(read))).toEqual(read);
      }),
      { numRuns: 2_000, seed: 11 },
    );
  });

  test('what is no answer is refused with a RangeError, not written crookedly', () => {
    const good = {
      kind: 'words',
      source: 0,
      request: 0,
      sent: 1 as Instant,
      received: 2 as Instant,
      words: [1],
    } as const;
    expect(decodeAnswers(encodeAnswers([good]))).toEqual([good]);
    expect(() => encodeAnswers([{ ...good, source: -1 }])).toThrow(RangeError);
    expect(() => encodeAnswers([{ ...good, words: [0.5] }])).toThrow(RangeError);
    expect(() => encodeAnswers([{ ...good, words: [Number.NaN] }])).toThrow(RangeError);
    expect(() => encodeAnswers([{ ...good, sent: 0.5 as Instant }])).toThrow(RangeError);
    expect(() => encodeAnswers([{ ...good, words: Array.from({ length: 5_000 }, () => 0) }])).toThrow(
      RangeError,
    );
  });

  test('a register that changes costs at most 4 bytes, one that rests next to none', () => {
    // 125 registers, polled every 100 ms; one kind of run changes all of them by a little, the other none.
    const run = (step: (index: number) => number): number =>
      encodeAnswers(
        Array.from({ length: 100 }, (_, poll) => ({
          kind: 'words' as const,
          source: 0,
          request: 0,
          sent: (1_764_000_000_000_000 + poll * 100_000 + (poll % 7)) as Instant,
          received: (1_764_000_000_000_000 + poll * 100_000 + 1_500 + (poll % 5)) as Instant,
          words: Array.from({ length: 125 }, (__, index) => 1_000 + poll * step(index)),
        })),
      ).length / 100;
    expect(run(() => 0)).toBeLessThan(20);
    // In two pieces it costs the two answers.
    const halves = (from: number) =>
      Array.from({ length: 125 }, (_, index) => (index < 60 === (from === 0) ? index : -2));
    const pieces = Array.from(
      { length: 200 },
      (_, half): Answer => ({
        kind: 'words',
        source: 0,
        request: 0,
        sent: (1_764_000_000_000_000 + half * 50_000) as Instant,
        received: (1_764_000_000_001_500 + half * 50_000) as Instant,
        words: halves(half % 2),
      }),
    );
    expect(encodeAnswers(pieces).length / 100).toBeLessThan(40);
    expect(run((index) => index % 50) / 125).toBeLessThanOrEqual(4);
  });

  test('an item that rests costs 2 bytes', () => {
    // 100 items told of as unchanged, ten times a second for ten seconds.
    const answers = Array.from({ length: 100 }, (_, word): Answer => {
      const spoken = (1_764_000_000_000_000 + word * 100_000) as Instant;
      const items = Array.from({ length: 100 }, (__, index) => ({
        signal: index as SignalId,
        status: 0,
        value: index / 3,
        serverTime: spoken,
        unchanged: true,
      }));
      return { kind: 'items', source: 0, received: (spoken + 2_000) as Instant, items };
    });
    expect(encodeAnswers(answers).length / 10_000).toBeLessThan(2.2);
  });
});

const rows = fc.array(
  fc.record({
    signal: fc.nat(5),
    why: fc.nat(ABSENCES.length - 1),
    flags: fc.nat(7),
    response: fc.nat(0xffff_ffff),
    low: fc.double(),
    high: fc.double(),
    earliest: time,
    latest: time,
  }),
);
const columnsOf = (all: readonly { [Name in keyof Omit<Readings, 'length'>]: number }[]): Readings => ({
  length: all.length,
  signal: Uint32Array.from(all, (row) => row.signal),
  why: Uint8Array.from(all, (row) => row.why),
  flags: Uint8Array.from(all, (row) => row.flags),
  response: Uint32Array.from(all, (row) => row.response),
  low: Float64Array.from(all, (row) => row.low),
  high: Float64Array.from(all, (row) => row.high),
  earliest: Float64Array.from(all, (row) => row.earliest),
  latest: Float64Array.from(all, (row) => row.latest),
});

describe('readings as a block', () => {
  test('come back exactly', () => {
    fc.assert(
      fc.property(rows, (all) => {
        const readings = columnsOf(all);
        expect(decodeReadings(encodeReadings(readings))).toEqual(readings);
      }),
      { numRuns: 300 },
    );
  });

  test('cut short, continued or of another version they are refused', () => {
    const bytes = encodeReadings(columnsOf(fc.sample(rows, { numRuns: 5, seed: 3 }).flat()));
    for (let length = 0; length < bytes.length; length += 1)
      expect(decodeReadings(bytes.subarray(0, length))).toBeUndefined();
    expect(decodeReadings(Uint8Array.from([...bytes, 0]))).toBeUndefined();
    expect(decodeReadings(bytes.with(0, 9))).toBeUndefined();
  });

  test('a time that is no whole microsecond is refused', () => {
    const [row] = fc.sample(rows, { numRuns: 20, seed: 3 }).flat();
    expect(() => encodeReadings(columnsOf([{ ...row!, earliest: 0.5 }]))).toThrow(RangeError);
    expect(() => encodeReadings(columnsOf([{ ...row!, latest: Number.NaN }]))).toThrow(RangeError);
  });
});
