/** Whatever the words and whatever the tag: decoding ends, never throws, and gives ordered finite bounds or a reason. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ABSENCES, instant, type Reading, SECOND } from '../../../src/measure/index.ts';
import {
  type Curve,
  type CurveShape,
  createDecoder,
  type Decoding,
  decodeValue,
  decodeWords,
  plainValue,
  planReads,
  type SignalDef,
  steepest,
} from '../../../src/signal/index.ts';
import { polled, signal } from './rig.ts';

const SEED = { seed: 20_261_125, numRuns: 3_000 };

const order = fc.constantFrom('ABCD', 'CDAB', 'BADC', 'DCBA' as const);
const type = fc.constantFrom(
  ...([
    'uint16',
    'int16',
    'uint32',
    'int32',
    'uint64',
    'int64',
    'float32',
    'float64',
    'bcd16',
    'bcd32',
  ] as const),
);
const countType = fc.constantFrom(...(['uint16', 'uint32', 'bcd16', 'bcd32'] as const));
const any = fc.double();
const some = fc.oneof(fc.double({ min: -1e4, max: 1e4, noNaN: true }), any);
const positive = fc.double({ min: 0, max: 1e3, noNaN: true });
const shape: fc.Arbitrary<CurveShape> = fc.oneof(
  fc.record({ as: fc.constant('platinum' as const), nominal: fc.oneof(fc.constantFrom(100, 1_000), any) }),
  fc.record({
    as: fc.constant('thermocouple' as const),
    letter: fc.constantFrom('K', 'J' as const),
    cold: some,
  }),
  fc.record({ as: fc.constant('thermistor' as const), a: any, b: any, c: any }),
  fc.record({ as: fc.constant('loop' as const), from: some, to: some }),
);
const curve: fc.Arbitrary<Curve> = fc
  .tuple(
    shape,
    fc.record({
      scale: fc.constantFrom(1, 1.8),
      offset: fc.constantFrom(0, 32),
      step: positive,
      error: positive,
    }),
  )
  .map(([one, rest]) => ({ ...one, ...rest }));
const conversion = fc.record(
  {
    scale: some,
    offset: some,
    faults: fc.array(some, { maxLength: 3 }),
    field: fc.record({ low: fc.nat(31), count: fc.integer({ min: 1, max: 32 }) }),
    curve,
  },
  { requiredKeys: ['scale', 'offset'] },
);
const pulses = fc.record(
  {
    type: countType,
    order,
    unitsPerPulsePerSecond: fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
    faults: fc.array(fc.nat()),
  },
  { requiredKeys: ['type', 'order', 'unitsPerPulsePerSecond'] },
);
const decoding: fc.Arbitrary<Decoding> = fc.oneof(
  fc.record({ as: fc.constant('bit' as const), bit: fc.nat(15), inverted: fc.boolean() }),
  fc
    .tuple(fc.record({ as: fc.constant('number' as const), type, order, inverted: fc.boolean() }), conversion)
    .map(([one, rest]) => ({ ...one, ...rest })),
  fc.record({ as: fc.constant('text' as const), registers: fc.nat(20), order }),
  fc.tuple(pulses, fc.integer({ min: 2, max: 2 ** 32 }), fc.nat(5 * SECOND)).map(([one, rollover, gate]) => ({
    as: 'pulse-count' as const,
    ...one,
    rollover,
    gate,
  })),
  pulses.map((one) => ({ as: 'pulse-gate' as const, ...one, gate: SECOND })),
  fc
    .tuple(pulses, fc.integer({ min: 1, max: SECOND }))
    .map(([one, tick]) => ({ as: 'pulse-period' as const, ...one, tick })),
  conversion.map((rest) => ({ as: 'value' as const, ...rest, inverted: false })),
);
const def: fc.Arbitrary<SignalDef> = fc
  .record({
    decoding,
    resolution: positive,
    accuracy: positive,
    states: fc.constantFrom([], ['off', 'on'], ['a', 'b', 'c', 'd']),
    plausible: fc.option(
      fc.tuple(some, positive).map(([low, wide]) => ({ low, high: low + wide })),
      { nil: undefined },
    ),
  })
  .map(({ decoding: how, plausible, ...rest }) =>
    signal(how, { ...rest, ...(plausible !== undefined && { plausible }) }),
  );
const words = fc.array(
  fc.oneof(fc.integer({ min: 0, max: 0xffff }), fc.constantFrom(0, 0xffff, 0x7fc0, 0x8000, -1)),
  {
    maxLength: 22,
  },
);

const isHonest = (found: Pick<Reading, 'value' | 'absent'>): void => {
  if (found.value === undefined) {
    expect(ABSENCES).toContain(found.absent);
    return;
  }
  const { low, high } = found.value;
  expect(Number.isFinite(low) && Number.isFinite(high)).toBe(true);
  expect(low).toBeLessThanOrEqual(high);
};

test('any words by any tag', () => {
  fc.assert(
    fc.property(def, words, fc.nat(24), (one, raw, from) => {
      isHonest(decodeWords(one, raw, from) as Reading);
    }),
    SEED,
  );
});

test('any value of an OPC UA server by any tag', () => {
  const variant = fc.record({
    dataType: fc.oneof(fc.integer({ min: 0, max: 30 }), fc.anything()),
    value: fc.anything({ withBigInt: true, withDate: true, withTypedArray: true, withMap: true }),
  });
  fc.assert(
    fc.property(def, fc.oneof(variant, fc.anything()), (one, given) => {
      const { value, text } = plainValue(given as never);
      isHonest(decodeValue(one, value, text) as Reading);
    }),
    SEED,
  );
});

const source = polled({ maxGap: 4 });

test('any sequence of answers by any tag, pulses too', () => {
  const answer = fc.record({
    words: fc.array(fc.integer({ min: -1, max: 0xffff }), { minLength: 1, maxLength: 20 }),
    after: fc.nat(2 * SECOND),
    took: fc.nat(SECOND),
  });
  fc.assert(
    fc.property(def, fc.array(answer, { maxLength: 20 }), (one, answers) => {
      const decoder = createDecoder([one], [source], planReads([one], [source], []));
      let now = 1_000_000_000;
      for (const { words: raw, after, took } of answers) {
        now += after;
        const times = { sent: instant(now), received: instant(now + took) };
        for (const reading of decoder.feed({ kind: 'words', source: 0, request: 0, ...times, words: raw })) {
          isHonest(reading);
          expect(reading.at.earliest).toBeLessThanOrEqual(reading.at.latest);
        }
        now += took;
      }
    }),
    { ...SEED, numRuns: 1_000 },
  );
});

test('the steepest place of any curve is found or not, and ends', () => {
  const range = fc.tuple(some, positive).map(([low, wide]) => ({ low, high: low + wide }));
  fc.assert(
    fc.property(curve, positive, range, (one, half, over) => {
      const widest = steepest(one, half, over);
      if (widest !== undefined) expect(widest).toBeGreaterThanOrEqual(0);
    }),
    { ...SEED, numRuns: 300 },
  );
});
