const DIGITS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

const CODES: readonly number[] = Array.from({ length: 128 }, (_, code) =>
  DIGITS.indexOf(String.fromCharCode(code)),
);

const PADDING = '='.charCodeAt(0);
/** By six bits. */
const DIGIT_CODES = Uint8Array.from(DIGITS, (digit) => digit.charCodeAt(0));

/** Bytes whose digits become text in one go; more would be too many arguments. */
const PIECE = 3 * 2_048;

/** Digit by digit a text would be a chain of some million pieces. */
const pieceText = (bytes: Uint8Array, from: number, to: number): string => {
  const codes = new Uint8Array(Math.ceil((to - from) / 3) * 4);
  let put = 0;
  for (let at = from; at < to; at += 3) {
    const left = to - at;
    const group =
      ((bytes[at] ?? 0) << 16) |
      ((left > 1 ? (bytes[at + 1] ?? 0) : 0) << 8) |
      (left > 2 ? (bytes[at + 2] ?? 0) : 0);
    codes[put] = DIGIT_CODES[group >> 18] ?? 0;
    codes[put + 1] = DIGIT_CODES[(group >> 12) & 63] ?? 0;
    codes[put + 2] = left > 1 ? (DIGIT_CODES[(group >> 6) & 63] ?? 0) : PADDING;
    codes[put + 3] = left > 2 ? (DIGIT_CODES[group & 63] ?? 0) : PADDING;
    put += 4;
  }
  return Reflect.apply(String.fromCharCode, undefined, codes) as string;
};

/** RFC 4648, section 4, with padding. */
export const toBase64 = (bytes: Uint8Array): string => {
  const pieces: string[] = [];
  for (let from = 0; from < bytes.length; from += PIECE)
    pieces.push(pieceText(bytes, from, Math.min(from + PIECE, bytes.length)));
  return pieces.join('');
};

/** Reads what `toBase64` writes and no other spelling of the same bytes; undefined for anything else. */
export const fromBase64 = (text: string): Uint8Array | undefined => {
  if (text.length % 4 !== 0) return undefined;
  const padding = /=*$/.exec(text)?.[0].length ?? 0;
  if (padding > 2) return undefined;
  const bytes = new Uint8Array((text.length / 4) * 3 - padding);
  let at = 0;
  let held = 0;
  let bits = 0;
  for (let index = 0; index < text.length - padding; index += 1) {
    const code = CODES[text.charCodeAt(index)] ?? -1;
    if (code < 0) return undefined;
    held = ((held << 6) | code) & 0xffff;
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    bytes[at] = (held >> bits) & 0xff;
    at += 1;
  }
  // What is left over of the last digit says nothing, and has to be nothing.
  return (held & ((1 << bits) - 1)) === 0 ? bytes : undefined;
};
