/** Every way to read some words, side by side, with the likely ones marked. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Meaning, meaningsOf } from '../../../src/signal/index.ts';

const find = (words: readonly number[], as: Meaning['as'], order = 'ABCD', scale = 1): Meaning | undefined =>
  meaningsOf(words).meanings.find((one) => one.as === as && one.order === order && one.scale === scale);

/** IEEE 754: 123.456 is 42 F6 E9 79; with its words changed over it reads −1.9e25 (recomputed). */
test('a float in the wrong order is told, and marked as what nobody measures', () => {
  const words = [0xe979, 0x42f6];
  expect(find(words, 'float32', 'CDAB')).toMatchObject({ value: Math.fround(123.456), plausible: true });
  expect(find(words, 'float32', 'ABCD')?.plausible).toBe(false);
  expect(meaningsOf(words)).toMatchObject({ hex: 'E979', bits: '1110100101111001' });
});

test('scaled, signed, decimal digits', () => {
  expect(find([787], 'uint16', 'ABCD', 0.1)).toMatchObject({ value: 78.7, plausible: true });
  expect(find([787], 'uint16', 'ABCD', 0.01)?.value).toBe(7.87);
  expect(find([0xffff], 'int16')?.value).toBe(-1);
  expect(find([0x1234], 'bcd16')?.value).toBe(1234);
  expect(find([0x1234, 0x5678], 'bcd32')?.value).toBe(12_345_678);
  expect(find([0x5678, 0x1234], 'bcd32', 'CDAB')?.value).toBe(12_345_678);
  expect(find([0x123a], 'bcd16')).toBeUndefined();
});

/** ASCII: "V1.02" is 56 31 2E 30 32. */
test('a text in either order of bytes, as far as it goes', () => {
  expect(find([0x5631, 0x2e30, 0x3200, 0x0007], 'text')).toMatchObject({ value: 'V1.02', plausible: true });
  expect(find([0x3156, 0x302e, 0x0032], 'text', 'BADC')?.value).toBe('V1.02');
  expect(find([0x4142, 0x4344, 0x0101], 'text')).toMatchObject({ value: 'ABCD', registers: 2 });
  expect(find([0x4142, 0x4300, 0x4444], 'text')).toMatchObject({ value: 'ABC', registers: 2 });
  expect(find([0x0007], 'text')).toBeUndefined();
});

test('wide values are told where there are enough words; a refused one ends them', () => {
  expect(find([0, 1], 'uint64')).toBeUndefined();
  expect(find([0, 1, 0, 2], 'uint64')?.value).toBe(4_294_967_298);
  expect(find([0xffff, 0xffff, 0xffff, 0xfffe], 'int64')?.value).toBe(-2);
  expect(find([1, -1, 0, 0], 'uint32')).toBeUndefined();
  expect(find([1, -1, 0, 0], 'uint16')?.value).toBe(1);
});

test('never throws, whatever the words', () => {
  const word = fc.oneof(fc.integer({ min: -1, max: 0xffff }), fc.double(), fc.integer());
  fc.assert(
    fc.property(fc.array(word, { maxLength: 20 }), fc.integer({ min: 0, max: 22 }), (words, from) => {
      for (const one of meaningsOf(words, from).meanings)
        if (one.plausible) expect(one.value).toSatisfy((value) => value !== '' && !Number.isNaN(value));
    }),
    { seed: 1, numRuns: 2_000 },
  );
});
