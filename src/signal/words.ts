import { isBits } from './tables.ts';
import type { ByteOrder, Decoding, NumberType, SignalDef } from './types.ts';

/** Registers that a number of each type occupies. */
export const WIDTHS: Readonly<Record<NumberType, number>> = {
  uint16: 1,
  int16: 1,
  uint32: 2,
  int32: 2,
  uint64: 4,
  int64: 4,
  float32: 2,
  float64: 4,
  bcd16: 1,
  bcd32: 2,
};

/** Registers that a signal occupies; 1 for bits. */
export const wordsOf = (decoding: Decoding): number => {
  switch (decoding.as) {
    case 'number':
    case 'pulse-count':
    case 'pulse-gate':
    case 'pulse-period':
      return WIDTHS[decoding.type];
    case 'text':
      return decoding.registers;
    case 'bit':
    case 'value':
      return 1;
    default:
      return decoding satisfies never;
  }
};

/** Whether the signal lives in a table of single bits. */
export const isBitTable = (def: SignalDef): boolean =>
  def.address.kind === 'modbus' && isBits(def.address.table);

/** One value's bytes, most significant first; filled anew for each value, so that decoding takes no memory. */
const bytes = new DataView(new ArrayBuffer(8));

/**
 * A is the most significant byte of the value; `CDAB` swaps words, `BADC` swaps the bytes of each word, `DCBA` does
 * both.
 */
const fill = (words: readonly number[], from: number, width: number, order: ByteOrder): void => {
  const swapWords = order === 'CDAB' || order === 'DCBA';
  const swapBytes = order === 'BADC' || order === 'DCBA';
  for (let index = 0; index < width; index += 1) {
    const place = swapWords ? width - 1 - index : index;
    bytes.setUint16(place * 2, (words[from + index] ?? 0) & 0xffff, swapBytes);
  }
};

const TWO_32 = 4_294_967_296;

/** Four bits a digit; undefined where one of them is more than 9. */
const decimals = (whole: number, digits: number): number | undefined => {
  let value = 0;
  for (let place = digits - 1; place >= 0; place -= 1) {
    const digit = (whole >>> (place * 4)) & 0xf;
    if (digit > 9) return undefined;
    value = value * 10 + digit;
  }
  return value;
};

/**
 * The number in the words from index `from` on; undefined where there are too few of them, or a decimal digit is none.
 * NaN and infinities come through as such; a whole number beyond 2^53 as the nearest that a double can hold.
 */
export const numberIn = (
  words: readonly number[],
  type: NumberType,
  order: ByteOrder,
  from = 0,
): number | undefined => {
  const width = WIDTHS[type];
  if (words.length - from < width) return undefined;
  fill(words, from, width, order);
  switch (type) {
    case 'uint16':
      return bytes.getUint16(0);
    case 'int16':
      return bytes.getInt16(0);
    case 'uint32':
      return bytes.getUint32(0);
    case 'int32':
      return bytes.getInt32(0);
    case 'uint64':
      return bytes.getUint32(0) * TWO_32 + bytes.getUint32(4);
    case 'int64':
      return bytes.getInt32(0) * TWO_32 + bytes.getUint32(4);
    case 'float32':
      return bytes.getFloat32(0);
    case 'float64':
      return bytes.getFloat64(0);
    case 'bcd16':
      return decimals(bytes.getUint16(0), 4);
    case 'bcd32':
      return decimals(bytes.getUint32(0), 8);
    default:
      return type satisfies never;
  }
};
