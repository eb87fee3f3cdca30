import { textIn } from './text.ts';
import type { ByteOrder, NumberType } from './types.ts';
import { numberIn, WIDTHS } from './words.ts';

/** One way to read the words. */
export interface Meaning {
  readonly as: NumberType | 'text';
  readonly order: ByteOrder;
  /** What the number is multiplied by. */
  readonly scale: number;
  /** Registers that it takes. */
  readonly registers: number;
  /** The number after scaling (NaN and infinities as such), or the text. */
  readonly value: number | string;
  /** Could be a measured value or a text that people wrote; says nothing about whether it is the right one. */
  readonly plausible: boolean;
}

/** The words from one address on, and every way to read them that they are enough for. */
export interface Meanings {
  /** First register: four digits. */
  readonly hex: string;
  /** First register: sixteen digits, the most significant bit first. */
  readonly bits: string;
  readonly meanings: readonly Meaning[];
}

const ORDERS: readonly ByteOrder[] = ['ABCD', 'CDAB', 'BADC', 'DCBA'];
/** Of one register only the bytes can be turned. */
const ONE_WORD: readonly ByteOrder[] = ['ABCD', 'BADC'];

/** Measured values of the trade lie well inside; what a wrong order gives mostly does not (common practice, no source). */
const isLikely = (value: number): boolean => {
  const size = Math.abs(value);
  return value === 0 || (size >= 1e-6 && size <= 1e7);
};

const numbers = (
  words: readonly number[],
  from: number,
  type: NumberType,
  orders: readonly ByteOrder[],
  scales: readonly number[],
): Meaning[] =>
  orders.flatMap((order) => {
    const raw = numberIn(words, type, order, from);
    if (raw === undefined) return [];
    return scales.map((scale) => {
      // Tenths and hundredths as a person writes them: 235 x 0.1 is 23.5.
      const value = scale === 1 ? raw : raw / Math.round(1 / scale);
      return { as: type, order, scale, registers: WIDTHS[type], value, plausible: isLikely(value) };
    });
  });

/** A text is looked for in so many registers. */
const TEXT_REGISTERS = 16;

const texts = (words: readonly number[], from: number): Meaning[] =>
  ONE_WORD.flatMap((order) => {
    const most = Math.min(TEXT_REGISTERS, words.length - from);
    // As far as there are characters: behind a text that fills its registers stands something else.
    let count = most;
    while (count > 0 && textIn(words, count, order, from) === undefined) count -= 1;
    const value = textIn(words, count, order, from) ?? '';
    if (value === '') return [];
    while (textIn(words, count - 1, order, from) === value) count -= 1;
    return [{ as: 'text' as const, order, scale: 1, registers: count, value, plausible: value.length >= 3 }];
  });

/**
 * Everything that the words from index `from` on can mean, side by side, for a person who knows what the device should
 * show. A register that the device refuses (-1) ends them. Never throws.
 */
export const meaningsOf = (words: readonly number[], from = 0): Meanings => {
  const refused = words.findIndex((word, index) => index >= from && !(word >= 0));
  const known = refused < 0 ? words : words.slice(0, refused);
  const first = (known[from] ?? 0) & 0xffff;
  const of = (type: NumberType, orders: readonly ByteOrder[], scales: readonly number[] = [1]): Meaning[] =>
    numbers(known, from, type, orders, scales);
  return {
    hex: first.toString(16).padStart(4, '0').toUpperCase(),
    bits: first.toString(2).padStart(16, '0'),
    meanings: [
      ...of('uint16', ['ABCD'], [1, 0.1, 0.01]),
      ...of('int16', ['ABCD'], [1, 0.1, 0.01]),
      ...of('uint16', ['BADC']),
      ...of('bcd16', ONE_WORD),
      ...of('uint32', ORDERS),
      ...of('int32', ORDERS),
      ...of('float32', ORDERS),
      ...of('bcd32', ORDERS),
      ...of('float64', ORDERS),
      ...of('uint64', ORDERS),
      ...of('int64', ORDERS),
      ...texts(known, from),
    ],
  };
};
