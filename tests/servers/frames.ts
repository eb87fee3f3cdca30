/** Modbus frames for peers and proxies of the tests: where one ends, its check sum, an exception in its place. */

export type Framing = 'mbap' | 'rtu';

/** CRC-16 of the serial line (Modbus over serial line V1.02, 6.2.2): polynomial 0xA001, start 0xFFFF, low byte first. */
export const crcOf = (bytes: Uint8Array): number => {
  let crc = 0xffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = (crc & 1) === 1 ? (crc >>> 1) ^ 0xa001 : crc >>> 1;
  }
  return crc;
};

export const withCrc = (body: Uint8Array): Buffer => {
  const crc = crcOf(body);
  return Buffer.concat([body, Buffer.from([crc & 0xff, crc >>> 8])]);
};

/** Length of the frame that `bytes` begin with, or undefined while that cannot be told. */
const lengthOf = (framing: Framing, side: 'question' | 'answer', bytes: Buffer): number | undefined => {
  if (framing === 'mbap') return bytes.length < 6 ? undefined : 6 + bytes.readUInt16BE(4);
  if (side === 'question') return 8;
  if (bytes.length < 3) return undefined;
  return (bytes[1]! & 0x80) !== 0 ? 5 : 5 + bytes[2]!;
};

/** A question on a line that does not fit its check sum: where the next one begins, only a silence tells. */
const isAstray = (framing: Framing, side: 'question' | 'answer', frame: Buffer): boolean =>
  framing === 'rtu' && side === 'question' && crcOf(frame.subarray(0, 6)) !== frame.readUInt16LE(6);

/** Cuts a stream of well-formed frames; the rest waits for the next bytes. What is astray comes as it is. */
export const splitter = (framing: Framing, side: 'question' | 'answer') => {
  let rest = Buffer.alloc(0);
  return (chunk: Buffer): Buffer[] => {
    rest = Buffer.concat([rest, chunk]);
    const frames: Buffer[] = [];
    for (;;) {
      const length = lengthOf(framing, side, rest);
      if (length === undefined || rest.length < length) return frames;
      if (isAstray(framing, side, rest)) {
        frames.push(rest);
        rest = Buffer.alloc(0);
        return frames;
      }
      frames.push(rest.subarray(0, length));
      rest = rest.subarray(length);
    }
  };
};

/** Where the unit stands; the function follows it. */
export const unitAt = (framing: Framing): number => (framing === 'mbap' ? 6 : 0);

/** The device's refusal of a question, or in the place of its answer. */
export const exceptionFor = (framing: Framing, frame: Buffer, code: number): Buffer => {
  const at = unitAt(framing);
  const body = Buffer.from([frame[at]!, frame[at + 1]! | 0x80, code]);
  return framing === 'rtu' ? withCrc(body) : Buffer.concat([frame.subarray(0, 4), Buffer.from([0, 3]), body]);
};
