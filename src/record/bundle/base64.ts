const DIGITS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

const CODES: readonly number[] = Array.from({ length: 128 }, (_, code) =>
  DIGITS.indexOf(String.fromCharCode(code)),
);

/** Text is joined in pieces: a block has some hundred thousand bytes. */
const PIECE = 3 * 4_096;

const pieceText = (bytes: Uint8Array, from: number, to: number): string => {
  let text = '';
  for (let at = from; at < to; at += 3) {
    const [one = 0, two, three] = bytes.subarray(at, Math.min(at + 3, to));
    const group = (one << 16) | ((two ?? 0) << 8) | (three ?? 0);
    text += DIGITS.charAt(group >> 18) + DIGITS.charAt((group >> 12) & 63);
    text += two === undefined ? '=' : DIGITS.charAt((group >> 6) & 63);
    text += three === undefined ? '=' : DIGITS.charAt(group & 63);
  }
  return text;
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
