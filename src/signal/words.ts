import type { ByteOrder, Decoding, NumberType, SignalDef } from './types.ts';

const WIDTHS: Readonly<Record<NumberType, number>> = {
  uint16: 1,
  int16: 1,
  uint32: 2,
  int32: 2,
  float32: 2,
  float64: 4,
};

/** Registers that a signal occupies; 1 for bits. */
export const wordsOf = (decoding: Decoding): number => {
  switch (decoding.as) {
    case 'number':
    case 'pulse-count':
    case 'pulse-period':
      return WIDTHS[decoding.type];
    case 'bit':
    case 'value':
      return 1;
    default:
      return decoding satisfies never;
  }
};

/** Whether the signal lives in a table of single bits. */
export const isBitTable = (def: SignalDef): boolean =>
  def.address.kind === 'modbus' && (def.address.table === 'coil' || def.address.table === 'discrete-input');

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

/**
 * The number in the words from index `from` on; undefined where there are too few of them. NaN and infinities come
 * through as such.
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
    case 'float32':
      return bytes.getFloat32(0);
    case 'float64':
      return bytes.getFloat64(0);
    default:
      return type satisfies never;
  }
};
