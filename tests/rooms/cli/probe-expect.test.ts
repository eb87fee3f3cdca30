/**
 * Finding where a value stands, from what a person reads on the display. Registers are packed here by hand after the
 * Modbus Application Protocol V1.1b3, 4.2 (high byte first in each word) and IEEE 754 (`DataView`).
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expectedOf, type Fit, fitsOf } from '../../../src/cli/probe/expect.ts';
import { expectLines } from '../../../src/cli/probe/expect-text.ts';
import type { ByteOrder, NumberType } from '../../../src/signal/index.ts';

const WIDTH: Readonly<Record<string, number>> = { 16: 1, 32: 2, 64: 4 };
const widthOf = (type: NumberType): number => WIDTH[type.slice(-2)] ?? 0;

const packed = (raw: number, type: NumberType, order: ByteOrder): number[] => {
  const bytes = new DataView(new ArrayBuffer(8));
  const size = widthOf(type);
  if (type === 'float32') bytes.setFloat32(0, raw);
  else if (type === 'float64') bytes.setFloat64(0, raw);
  else if (type.startsWith('bcd'))
    bytes.setUint32(0, Number.parseInt(String(raw), 16) << (size === 1 ? 16 : 0));
  else if (size === 4) bytes.setBigInt64(0, BigInt(raw));
  else if (size === 2) bytes.setInt32(0, raw);
  else bytes.setInt16(0, raw);
  const words = Array.from({ length: size }, (_, index) => bytes.getUint16(2 * index));
  const turned = order === 'CDAB' || order === 'DCBA' ? words.reverse() : words;
  const swap = order === 'BADC' || order === 'DCBA';
  return swap ? turned.map((word) => ((word & 0xff) << 8) | (word >> 8)) : turned;
};

/** What a display of four digits shows. */
const shown = (value: number): string => {
  const digits = Math.max(0, 3 - Math.floor(Math.log10(Math.abs(value))));
  return value.toFixed(digits);
};

const TRUE_AT = 20;
const TYPES: NumberType[] = [
  'uint16',
  'int16',
  'uint32',
  'int32',
  'float32',
  'float64',
  'bcd16',
  'bcd32',
  'uint64',
  'int64',
];

const stands = fc
  .record({
    type: fc.constantFrom(...TYPES),
    order: fc.constantFrom<ByteOrder>('ABCD', 'CDAB', 'BADC', 'DCBA'),
    scale: fc.constantFrom(1, 0.1, 0.01),
    raw: fc.integer({ min: 32, max: 9_999 }),
    part: fc.double({ min: 0, max: 1, noNaN: true }),
    asked: fc.integer({ min: TRUE_AT - 2, max: TRUE_AT + 2 }),
    around: fc.array(fc.integer({ min: 0, max: 65_535 }), { minLength: 16, maxLength: 16 }),
    quiet: fc.boolean(),
  })
  .map(({ type, order, scale, raw, part, asked, around, quiet }) => {
    const real = type.startsWith('float');
    const one = widthOf(type) === 1;
    const used: ByteOrder = one && order !== 'ABCD' ? 'BADC' : order;
    const held = real ? (raw + part) / (scale * 10) : raw;
    const words = around.map((word) => (quiet ? 0 : word));
    packed(held, type, used).forEach((word, index) => {
      words[8 + index] = word;
    });
    const value = (real ? Number(type === 'float32' ? Math.fround(held) : held) : held) * scale;
    return { type, order: used, scale, value, asked, words };
  });

const isIt = (fit: Fit, type: NumberType, order: ByteOrder, scale: number): boolean =>
  fit.scale === scale &&
  [fit, ...fit.same].some((way) => way.at === TRUE_AT && way.type === type && way.order === order);

describe('any value in any type, order and scale, at most two addresses away', () => {
  test('is among the first three, and where others fit too they are told', () => {
    fc.assert(
      fc.property(stands, ({ type, order, scale, value, asked, words }) => {
        const text = shown(value);
        const wanted = expectedOf(`${text} rpm`);
        if (wanted === undefined) throw new Error(text);
        const fits = fitsOf({ words, from: TRUE_AT - 8, at: asked }, 2, wanted);
        const place = fits.findIndex((fit) => isIt(fit, type, order, scale));
        expect(
          place,
          `${type} ${order} x ${scale} shows ${text}: ${JSON.stringify(fits)}`,
        ).toBeGreaterThanOrEqual(0);
        expect(place).toBeLessThan(3);
        for (const fit of fits)
          expect(Math.abs(fit.value - wanted.value)).toBeLessThanOrEqual(
            Math.max(1.5 * wanted.step, 0.02 * Math.abs(wanted.value)) * 1.000001,
          );
        const told = expectLines(fits, wanted, text, asked, 'holding').join('\n');
        const several = fits.length > 1 || (fits[0]?.same.length ?? 0) > 0;
        expect(told.includes('One look cannot tell these apart')).toBe(several);
        for (const line of told.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
      }),
      // The same cases each time. In about one of 5,000 others a neighbour shows the value by chance, in a way that assumes
      // less (4 as a plain word at the address asked, beside a swapped BCD word of 40 tenths): then three may stand before it.
      { numRuns: 1_000, seed: 20_261_125 },
    );
  });
});

// IEEE 754 words of 123.456 in the four orders (computed by hand from 0x42F6E979).
test.each([
  ['ABCD', [0x42f6, 0xe979]],
  ['CDAB', [0xe979, 0x42f6]],
  ['BADC', [0xf642, 0x79e9]],
  ['DCBA', [0x79e9, 0xf642]],
] as const)('123.456 in order %s is found', (order, words) => {
  const [first, second] = fitsOf({ words: [0, 0, ...words, 0, 0], from: 8, at: 10 }, 2, {
    value: 123.46,
    unit: '',
    step: 0.01,
  });
  expect(first).toMatchObject({ at: 10, type: 'float32', order, scale: 1 });
  expect(second?.type === first?.type && second?.order === first?.order).toBe(false);
});

test('of two ways that share the highest word the one whose lowest word moves comes first', () => {
  // 3.04 as CDAB at 13; the words 14 and 15 (its highest word, and a zero) read 3.03 as ABCD.
  const seen = { words: [0, 0x8f5c, 0x4042, 0, 0], from: 12, at: 14 };
  const wanted = { value: 3, unit: 'm/s', step: 0.1 };
  expect(fitsOf(seen, 2, wanted)[0]).toMatchObject({ at: 14, order: 'ABCD', alive: false });
  expect(fitsOf({ ...seen, moved: new Set([13]) }, 2, wanted)[0]).toMatchObject({
    at: 13,
    order: 'CDAB',
    alive: true,
  });
});

test('a display in another unit than the register is found where nothing else fits', () => {
  // 80 degC are 176 degF.
  const fits = fitsOf({ words: [0, 1_760, 0], from: 0, at: 1 }, 1, { value: 80, unit: 'degC', step: 1 });
  expect(fits[0]).toMatchObject({ at: 1, type: 'uint16', scale: 0.1, value: 176, unit: 'degF' });
});

test('what is not there is not found: words that are refused, nothing near', () => {
  const wanted = { value: 96, unit: 'rpm', step: 1 };
  expect(fitsOf({ words: [-1, 1_234, -1], from: 0, at: 1 }, 2, wanted)).toEqual([]);
  expect(expectLines([], wanted, '96 rpm', 1, 'holding').join(' ')).toContain('No way to read');
});

test.each([
  ['96 rpm', { value: 96, unit: 'rpm', step: 1 }],
  ['-12.50 degC', { value: -12.5, unit: 'degC', step: 0.01 }],
  ['3.04m/s', { value: 3.04, unit: 'm/s', step: 0.01 }],
  ['about 96', undefined],
  ['', undefined],
])('a display that shows "%s"', (text, wanted) => expect(expectedOf(text)).toEqual(wanted));
