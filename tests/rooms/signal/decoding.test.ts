/** Numbers behind the words: bits, digits, texts, fault codes, curves and their doubt. Arithmetic by hand. */
import { describe, expect, test } from 'vitest';
import { expOfNegative, ln } from '../../../src/signal/elementary.ts';
import { type Decoding, decodeValue, decodeWords, plainValue, textsIn } from '../../../src/signal/index.ts';
import { textCode } from '../../../src/signal/text-code.ts';
import { curved, number, signal } from './rig.ts';

const value = (decoding: Decoding, words: readonly number[]): number | string => {
  const decoded = decodeWords(signal(decoding), words);
  return 'value' in decoded ? decoded.value.low : decoded.absent;
};

describe('packed bits', () => {
  test('neighbouring bits are a number of their own', () => {
    const field = (low: number, count: number): Decoding => number('uint16', { field: { low, count } });
    expect(value(field(4, 3), [0b0000_0000_0101_0000])).toBe(5);
    expect(value(field(4, 3), [0b1111_1111_1101_1111])).toBe(5);
    expect(value(field(15, 1), [0x8000])).toBe(1);
    expect(value(field(0, 16), [0xbeef])).toBe(0xbeef);
    expect(value(number('uint32', { field: { low: 30, count: 2 } }), [0x8000, 0])).toBe(2);
    expect(value(number('int32', { field: { low: 31, count: 1 } }), [0xffff, 0xffff])).toBe(1);
  });

  test('a state of several bits; one that its role does not know is no value', () => {
    const states = ['stopped', 'starting', 'running'];
    const mode = signal(number('uint16', { field: { low: 8, count: 2 } }), { states, quantity: 'state' });
    expect(decodeWords(mode, [0x02ff])).toEqual({ value: { low: 2, high: 2 } });
    expect(decodeWords(mode, [0x03ff])).toEqual({ absent: 'implausible' });
  });

  test('bits of an OPC UA number, negative ones as two’s complement; a fraction has none', () => {
    const field = { low: 3, count: 1 };
    const bit = signal(
      { as: 'value', scale: 1, offset: 0, inverted: true, field },
      { states: ['closed', 'open'], quantity: 'state' },
    );
    expect(decodeValue(bit, 8)).toEqual({ value: { low: 0, high: 0 } });
    expect(decodeValue(bit, 0xf7)).toEqual({ value: { low: 1, high: 1 } });
    expect(decodeValue(bit, -1)).toEqual({ value: { low: 0, high: 0 } });
    for (const raw of [8.5, 1e300, Number.NaN])
      expect(decodeValue(bit, raw)).toEqual({ absent: 'implausible' });
  });
});

describe('what is no measurement', () => {
  test.each([
    ['int16', [0x8000], -32_768],
    ['int16', [0x7fff], 32_767],
    ['uint16', [9_999], 9_999],
    ['uint32', [0xffff, 0xffff], 4_294_967_295],
    ['float32', [0x461c, 0x3f9a], 9_999.9],
    ['float64', [0x40c3, 0x87f3, 0x3333, 0x3333], 9_999.9],
    ['bcd16', [0x9999], 9_999],
    ['int64', [0x8000, 0, 0, 0], -9_223_372_036_854_775_808n],
  ] as const)('%s %o is the fault code %s', (type, words, fault) => {
    expect(value(number(type, { faults: [Number(fault)] }), words)).toBe('sensor-fault');
    expect(value(number(type), words)).not.toBe('sensor-fault');
  });

  test('a digit above nine, NaN, infinity, and whole numbers that a double cannot tell apart', () => {
    expect(value(number('bcd16'), [0x12a4])).toBe('implausible');
    for (const words of [
      [0x7fc0, 0],
      [0x7f80, 0],
      [0xff80, 0],
    ])
      expect(value(number('float32'), words)).toBe('implausible');
    // 2^53 + 1 would be read as 2^53.
    expect(value(number('uint64'), [0x0020, 0, 0, 1])).toBe('implausible');
    expect(value(number('int64'), [0xffdf, 0xffff, 0xffff, 0xfffe])).toBe('implausible');
    expect(value(number('uint64'), [0x001f, 0xffff, 0xffff, 0xffff])).toBe(9_007_199_254_740_991);
  });
});

/** ASCII: 56 31 2E 30 is "V1.0". */
describe('texts', () => {
  const text: Decoding = { as: 'text', registers: 3, order: 'ABCD' };

  test('another text is another value; the same text is the same, however it is filled up', () => {
    const first = value(text, [0x5631, 0x2e30, 0]);
    expect(first).toBe(textCode('V1.0'));
    expect(value({ ...text, order: 'BADC' }, [0x3156, 0x302e, 0])).toBe(first);
    expect(value(text, [0x5631, 0x2e30, 0x2020])).toBe(first);
    expect(value(text, [0x5631, 0x2e31, 0])).not.toBe(first);
    expect(decodeValue(signal({ ...text, registers: 0 }), null, 'V1.0')).toEqual({
      value: { low: first, high: first },
    });
    expect(Number.isSafeInteger(first)).toBe(true);
  });

  test('nothing, control characters and too few registers are no text', () => {
    for (const words of [
      [0, 0, 0],
      [0x2020, 0x2020, 0x2020],
      [0x5601, 0x2e30, 0],
      [0x5631, 0x2e30],
    ])
      expect(value(text, words)).toBe('implausible');
    expect(decodeValue(signal({ ...text, registers: 0 }), 7)).toEqual({ absent: 'implausible' });
  });

  test('a text is never taken for a number', () => {
    const plain = signal({ as: 'value', scale: 1, offset: 0, inverted: false });
    expect(decodeValue(plain, null, '96')).toEqual({ absent: 'implausible' });
  });

  test('ten thousand revisions have ten thousand codes, all whole and below 2^48', () => {
    const codes = new Set<number>();
    for (let major = 0; major < 100; major += 1)
      for (let minor = 0; minor < 100; minor += 1) codes.add(textCode(`V${major}.${minor}`));
    expect(codes.size).toBe(10_000);
    for (const code of codes)
      expect(Number.isInteger(code) && code >= 0 && code < 281_474_976_710_656).toBe(true);
  });

  test('the text itself is found beside its code', () => {
    const def = signal(text);
    const request = {
      source: 0,
      table: 'holding',
      at: 0,
      count: 3,
      signals: [def.id],
      pace: 'watch',
    } as const;
    const plan = { requests: [request], items: new Map() };
    const times = { source: 0, request: 0, sent: 0 as never, received: 0 as never };
    expect(textsIn([def], plan, { kind: 'words', ...times, words: [0x5631, 0x2e30, 0] })).toEqual([
      [0, 'V1.0'],
    ]);
    expect(textsIn([def], plan, { kind: 'words', ...times, words: [-1, -1, -1] })).toEqual([]);
    expect(textsIn([def], plan, { kind: 'words', ...times, words: [0x5600, -1, -1] })).toEqual([]);
    const item = { signal: def.id, status: 0, value: null, text: 'V2' };
    expect(textsIn([def], plan, { kind: 'items', source: 0, received: 0 as never, items: [item] })).toEqual([
      [0, 'V2'],
    ]);
  });
});

describe('doubt through a curve', () => {
  /** IEC 60751: 138.51 ohm is 100.012 degC, and the curve rises by 0.379 ohm a kelvin there. */
  test('a step and an error before the curve come out as kelvin; those behind it are added', () => {
    const platinum = { as: 'platinum', nominal: 100 } as const;
    const halfOf = (def: ReturnType<typeof curved>): number => {
      const decoded = decodeValue(def, 138.51);
      return 'value' in decoded ? (decoded.value.high - decoded.value.low) / 2 : Number.NaN;
    };
    expect(halfOf(curved(platinum, 0.1))).toBeCloseTo(0.05 / 0.379, 3);
    expect(halfOf(curved(platinum, 0.1, 0.2))).toBeCloseTo(0.25 / 0.379, 3);
    expect(halfOf({ ...curved(platinum), resolution: 0.4, accuracy: 0.1 })).toBeCloseTo(0.3, 6);
    // What was declared before the curve is not counted again behind it.
    expect(halfOf({ ...curved(platinum, 0.1, 0.2), resolution: 9, accuracy: 9 })).toBeCloseTo(
      0.25 / 0.379,
      3,
    );
  });

  test('outside its range a good reading is no value, whatever the wire says', () => {
    const platinum = curved({ as: 'platinum', nominal: 100 });
    const probe = { ...platinum, plausible: { low: -20, high: 150 } };
    for (const ohms of [10, 90, 160, 380, 4_000, 0])
      expect(decodeValue(probe, ohms)).toEqual({ absent: 'implausible' });
    expect('value' in decodeValue(probe, 138.51)).toBe(true);
  });
});

test('logarithm and exponential agree with those of the machine', () => {
  for (let step = -300; step <= 300; step += 1) {
    const x = Math.exp(step / 10);
    expect(Math.abs(ln(x) - Math.log(x))).toBeLessThanOrEqual(1e-15 * Math.max(1, Math.abs(step / 10)) * 4);
    const down = -Math.abs(step) / 2;
    expect(Math.abs(expOfNegative(down) / Math.exp(down) - 1)).toBeLessThan(1e-12);
  }
  for (const none of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) expect(ln(none)).toBeNaN();
});

/** Built-in types of OPC 10000-6, 5.1.2: 1 Boolean, 6 Int32, 8 Int64, 9 UInt64, 12 String, 13 DateTime, 21 LocalizedText. */
test.each([
  [{ dataType: 1, value: true }, { value: 1 }],
  [{ dataType: 6, value: -5 }, { value: -5 }],
  [{ dataType: 8, value: [0xffff_ffff, 0xffff_fffe] }, { value: -2 }],
  [{ dataType: 8, value: [-1, -2] }, { value: -2 }],
  [{ dataType: 9, value: [2, 1_410_065_408] }, { value: 10_000_000_000 }],
  [{ dataType: 9, value: [0xffff_ffff, 0xffff_ffff] }, { value: null }],
  [{ dataType: 9, value: 12n }, { value: 12 }],
  [{ dataType: 9, value: 2n ** 60n }, { value: null }],
  [
    { dataType: 12, value: 'V1.0' },
    { value: null, text: 'V1.0' },
  ],
  [{ dataType: 12, value: null }, { value: null }],
  [
    { dataType: 21, value: { text: 'V1.0', locale: 'en' } },
    { value: null, text: 'V1.0' },
  ],
  [{ dataType: 13, value: new Date(0) }, { value: null }],
  [{ dataType: 6, value: [1, 2] }, { value: null }],
  [{ dataType: 6, value: new Int32Array(2) }, { value: null }],
  [undefined, { value: null }],
  [null, { value: null }],
])('an OPC UA value %o', (variant, plain) => {
  expect(plainValue(variant)).toEqual(plain);
});

test('a value that fails when it is looked at is none', () => {
  const failing = {
    get text(): string {
      throw new Error('not now');
    },
  };
  expect(plainValue({ dataType: 21, value: failing })).toEqual({ value: null });
});
