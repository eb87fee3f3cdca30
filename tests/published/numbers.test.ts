/** Numbers in registers, and units, against published bytes and definitions. */
import { describe, expect, test } from 'vitest';
import { convert } from '../../src/measure/index.ts';
import { type ByteOrder, decodeWords, meaningsOf, numberIn } from '../../src/signal/index.ts';
import { number, signal } from '../rooms/signal/rig.ts';

const wordsOf = (hex: string): number[] => hex.split(' ').map((word) => Number.parseInt(word, 16));
const ORDERS: readonly ByteOrder[] = ['ABCD', 'CDAB', 'BADC', 'DCBA'];

/** IEEE 754; the bytes are recomputed. Eight bytes of 123.456 and π as in general use: 405EDD2F1A9FBE77, 400921FB54442D18. */
describe('IEEE 754 in four orders', () => {
  test.each([
    [123.456, ['405E DD2F 1A9F BE77', '77BE 9F1A 2FDD 5E40']],
    [Math.PI, ['4009 21FB 5444 2D18', '182D 4454 FB21 0940']],
  ] as const)('a float of 64 bits: %f', (value, [forward, backward]) => {
    const words = wordsOf(forward);
    const turned = words.map((word) => ((word & 0xff) << 8) | (word >> 8));
    const orders = { ABCD: words, CDAB: [...words].reverse(), BADC: turned, DCBA: [...turned].reverse() };
    expect(orders.DCBA).toEqual(wordsOf(backward));
    for (const order of ORDERS) expect(numberIn(orders[order], 'float64', order)).toBe(value);
  });

  test('123.456 with its words changed over is −1.9e25: outside of what can be, and marked so', () => {
    const words = wordsOf('E979 42F6');
    const speed = signal(number('float32'), { plausible: { low: 0, high: 200 } });
    expect(decodeWords(speed, words)).toEqual({ absent: 'implausible' });
    const likely = meaningsOf(words).meanings.filter((one) => one.as === 'float32' && one.plausible);
    expect(likely).toContainEqual(expect.objectContaining({ order: 'CDAB', value: Math.fround(123.456) }));
    expect(likely.map((one) => one.order)).not.toContain('ABCD');
  });

  /** 80.0 is 42A0 0000; changed over it is 0000 42A0, 2.4e-41: subnormal, and inside any range that begins at 0. */
  test('80.0 with its words changed over is no small value, and 0 is one', () => {
    const speed = signal(number('float32'), { plausible: { low: 0, high: 200 } });
    expect(decodeWords(speed, wordsOf('0000 42A0'))).toEqual({ absent: 'implausible' });
    expect(decodeWords(speed, wordsOf('42A0 0000'))).toMatchObject({ value: { low: 80, high: 80 } });
    expect(decodeWords(speed, wordsOf('0000 0000'))).toMatchObject({ value: { low: 0, high: 0 } });
  });
});

/** Two's complement and binary coded decimals as in general use. */
test('whole numbers of 64 bits, and decimal digits', () => {
  const words = wordsOf('0000 0002 540B E400');
  for (const type of ['uint64', 'int64'] as const) expect(numberIn(words, type, 'ABCD')).toBe(10_000_000_000);
  expect(numberIn(wordsOf('FFFF FFFF FFFF FFFF'), 'int64', 'ABCD')).toBe(-1);
  expect(numberIn(wordsOf('9876'), 'bcd16', 'ABCD')).toBe(9_876);
  expect(numberIn(wordsOf('0012 3456'), 'bcd32', 'ABCD')).toBe(123_456);
  expect(numberIn(wordsOf('3456 0012'), 'bcd32', 'CDAB')).toBe(123_456);
  for (const hex of ['000A', 'A000', '12F4']) expect(numberIn(wordsOf(hex), 'bcd16', 'ABCD')).toBeUndefined();
});

/** 0 degC is 32 degF and 273.15 K by definition; the rows recomputed. 1 in is 25.4 mm, 1 ft is 0.3048 m by definition. */
describe('units', () => {
  test.each([
    [40, 104],
    [60, 140],
    [80, 176],
    [82, 179.6],
    [85, 185],
    [93, 199.4],
    [100, 212],
    [120, 248],
  ])('%f degC is %f degF', (celsius, fahrenheit) => {
    expect(convert(celsius, 'degC', 'degF')).toBeCloseTo(fahrenheit, 9);
    expect(convert(fahrenheit, 'degF', 'degC')).toBeCloseTo(celsius, 9);
  });

  test.each([
    [175, 79.444],
    [180, 82.222],
  ])('%f degF is %f degC', (fahrenheit, celsius) => {
    expect(convert(fahrenheit, 'degF', 'degC')).toBeCloseTo(celsius, 3);
    expect(convert(fahrenheit, 'degF', 'K')).toBeCloseTo(celsius + 273.15, 3);
  });

  /** A motor manual (vendor withheld) lists rises of 40 K as 72 degF and 35 K as 63 degF; API texts print 30 K as 50 degF. */
  test.each([
    [40, 72],
    [35, 63],
    [30, 54],
  ])('a rise of %f K is one of %f degF', (kelvin, fahrenheit) => {
    for (const unit of ['K', 'degC']) {
      expect(convert(kelvin, unit, 'degF', true)).toBeCloseTo(fahrenheit, 12);
      expect(convert(fahrenheit, 'degF', unit, true)).toBeCloseTo(kelvin, 12);
    }
    expect(convert(kelvin, 'K', 'degC', true)).toBe(kelvin);
  });

  /** Exactly, so that a library that rounds otherwise is noticed: readings must not differ between machines. */
  test.each([
    ['rev/s', 'rpm', 60],
    ['rev/min', 'rpm', 1],
    ['Hz', 'pulses/min', 60],
    ['pulses/s', 'Hz', 1],
    ['ft/min', 'm/s', 0.00508],
    ['m/min', 'm/s', 1 / 60],
    ['in', 'mm', 25.4],
    ['m', 'mm', 1_000],
    ['cm', 'mm', 10],
    ['A', 'mA', 1_000],
    ['V', 'mV', 1_000],
    ['kohm', 'ohm', 1_000],
    ['h', 's', 3_600],
    ['min', 's', 60],
    ['ms', 's', 0.001],
  ])('1 %s is so many %s: %f', (from, to, factor) => {
    expect(convert(1, from, to)).toBe(factor);
  });

  test('what does not measure the same does not convert: a turn a minute is not a pulse a minute', () => {
    for (const [from, to] of [
      ['rpm', 'Hz'],
      ['rpm', 'm/s'],
      ['%', 'rpm'],
      ['furlong', 'm'],
      ['mm', 'yard'],
    ] as const)
      expect(convert(1, from, to)).toBeUndefined();
  });
});
