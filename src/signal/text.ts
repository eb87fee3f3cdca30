import type { ByteOrder } from './types.ts';

/** The bytes of registers as they travel, most significant first unless each register's bytes are turned. */
const bytesOf = (words: readonly number[], from: number, count: number, order: ByteOrder): number[] => {
  const turned = order === 'BADC' || order === 'DCBA';
  const bytes: number[] = [];
  for (let at = from; at < from + count; at += 1) {
    const word = (words[at] ?? 0) & 0xffff;
    const [first, second] = turned ? [word & 0xff, word >> 8] : [word >> 8, word & 0xff];
    bytes.push(first, second);
  }
  return bytes;
};

/** Letters, digits, signs; bytes above 127 as ISO 8859-1 has them, less 255, which is memory that nobody has written. */
const isPrintable = (byte: number): boolean => (byte >= 0x20 && byte < 0x7f) || (byte >= 0xa0 && byte < 0xff);

/**
 * The text in `count` registers from index `from` on, up to the first zero byte, without blanks at its end. Undefined
 * where there are too few registers, one is refused (-1), or a byte is no character: then it is no text, or not in this
 * order.
 */
export const textIn = (
  words: readonly number[],
  count: number,
  order: ByteOrder,
  from = 0,
): string | undefined => {
  if (words.length - from < count) return undefined;
  for (let at = from; at < from + count; at += 1) if (!((words[at] ?? -1) >= 0)) return undefined;
  const bytes = bytesOf(words, from, count, order);
  const end = bytes.indexOf(0);
  const used = end < 0 ? bytes : bytes.slice(0, end);
  return used.every(isPrintable) ? String.fromCharCode(...used).replace(/ +$/, '') : undefined;
};
