/** One read question, as far as its answer must fit it. */
export interface Asked {
  readonly unit: number;
  readonly fc: number;
  /** Data bytes that the answer must carry. */
  readonly bytes: number;
}

/** Most registers and bits of one question (Application Protocol V1.1b3, 6.1–6.4). */
const MOST_REGISTERS = 125;
const MOST_BITS = 2_000;

/** What comes before the unit on TCP: transaction, protocol, length. What comes behind on RTU: the checksum. */
export const MBAP = 6;
export const CRC = 2;
const QUESTION = 6;

const TABLE = Uint16Array.from({ length: 256 }, (_, byte) => {
  let crc = byte;
  for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >> 1) ^ 0xa001 : crc >> 1;
  return crc;
});

/** Checksum of RTU frames (Serial Line V1.02, 6.2.2) over `frame[from..to)`; its low byte travels first. */
export const crcOf = (frame: Uint8Array, from: number, to: number): number => {
  let crc = 0xffff;
  for (let at = from; at < to; at += 1) crc = (crc >> 8) ^ (TABLE[(crc ^ (frame[at] ?? 0)) & 0xff] ?? 0);
  return crc;
};

const word = (frame: Uint8Array, at: number): number => ((frame[at] ?? 0) << 8) | (frame[at + 1] ?? 0);

/** Whether the two bytes behind `frame[from..to)` are its checksum. */
export const crcFits = (frame: Uint8Array, from: number, to: number): boolean => {
  const crc = crcOf(frame, from, to);
  return frame[to] === (crc & 0xff) && frame[to + 1] === crc >> 8;
};

/**
 * The question in an RTU frame: unit, function, address, quantity, checksum. Undefined for anything but one whole read
 * (functions 1–4) within the limits: nothing else may leave this program.
 */
export const askedIn = (frame: Uint8Array): Asked | undefined => {
  if (frame.length !== QUESTION + CRC || !crcFits(frame, 0, QUESTION)) return undefined;
  const fc = frame[1] ?? 0;
  if (fc < 1 || fc > 4) return undefined;
  const bits = fc <= 2;
  const count = word(frame, 4);
  if (count < 1 || count > (bits ? MOST_BITS : MOST_REGISTERS) || word(frame, 2) + count > 65_536)
    return undefined;
  return { unit: frame[0] ?? 0, fc, bytes: bits ? (count + 7) >> 3 : count * 2 };
};

/** From the unit to the last data byte, or to the exception code. */
export const lengthOf = (asked: Asked, fc: number): number => (fc === asked.fc ? 3 + asked.bytes : 3);

/** The first field of `got[at..end)`, which begins with the unit, that does not fit the question. */
export const misfit = (asked: Asked, got: Uint8Array, at: number, end: number): string | undefined => {
  if (at < end && got[at] !== asked.unit) return 'wrong-unit';
  if (at + 1 >= end) return undefined;
  const fc = got[at + 1];
  if (fc !== asked.fc && fc !== (asked.fc | 0x80)) return 'wrong-function';
  return fc === asked.fc && at + 2 < end && got[at + 2] !== asked.bytes ? 'wrong-byte-count' : undefined;
};
