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

/**
 * The words as bytes, most significant first. A is the most significant byte of the value; `CDAB` swaps words,
 * `BADC` swaps the bytes of each word, `DCBA` does both.
 */
const bytesOf = (words: readonly number[], order: ByteOrder): DataView => {
  const view = new DataView(new ArrayBuffer(words.length * 2));
  const swapWords = order === 'CDAB' || order === 'DCBA';
  const swapBytes = order === 'BADC' || order === 'DCBA';
  words.forEach((word, index) => {
    const place = swapWords ? words.length - 1 - index : index;
    view.setUint16(place * 2, word & 0xffff, swapBytes);
  });
  return view;
};

/** The number in the words; undefined where there are too few of them. NaN and infinities come through as such. */
export const numberIn = (
  words: readonly number[],
  type: NumberType,
  order: ByteOrder,
): number | undefined => {
  if (words.length < WIDTHS[type]) return undefined;
  const view = bytesOf(words.slice(0, WIDTHS[type]), order);
  switch (type) {
    case 'uint16':
      return view.getUint16(0);
    case 'int16':
      return view.getInt16(0);
    case 'uint32':
      return view.getUint32(0);
    case 'int32':
      return view.getInt32(0);
    case 'float32':
      return view.getFloat32(0);
    case 'float64':
      return view.getFloat64(0);
    default:
      return type satisfies never;
  }
};
