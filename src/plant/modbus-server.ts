import { createServer, type Socket } from 'node:net';
import { type Listening, listen } from './listen.ts';

/** What the server shows; read at each request, so that one answer is one image. */
export interface ModbusImage {
  registers(): Uint16Array;
  coils(): Uint8Array;
}

const ILLEGAL_FUNCTION = 1;
const ILLEGAL_ADDRESS = 2;
const ILLEGAL_VALUE = 3;

const exception = (code: number, why: number): Buffer => Buffer.from([code | 0x80, why]);

const bitsAnswer = (code: number, bits: Uint8Array, at: number, count: number): Buffer => {
  if (count < 1 || count > 2_000) return exception(code, ILLEGAL_VALUE);
  if (at + count > bits.length) return exception(code, ILLEGAL_ADDRESS);
  const bytes = Buffer.alloc(2 + Math.ceil(count / 8));
  bytes[0] = code;
  bytes[1] = bytes.length - 2;
  for (let index = 0; index < count; index += 1) {
    const place = 2 + (index >> 3);
    if (bits[at + index] === 1) bytes[place] = (bytes[place] ?? 0) | (1 << (index & 7));
  }
  return bytes;
};

const wordsAnswer = (code: number, words: Uint16Array, at: number, count: number): Buffer => {
  if (count < 1 || count > 125) return exception(code, ILLEGAL_VALUE);
  if (at + count > words.length) return exception(code, ILLEGAL_ADDRESS);
  const bytes = Buffer.alloc(2 + count * 2);
  bytes[0] = code;
  bytes[1] = count * 2;
  for (let index = 0; index < count; index += 1) bytes.writeUInt16BE(words[at + index] ?? 0, 2 + index * 2);
  return bytes;
};

/** Modbus Application Protocol V1.1b3, functions 01 to 04 (6.1–6.4); every other function is refused. */
const answer = (image: ModbusImage, pdu: Buffer): Buffer => {
  const code = pdu[0] ?? 0;
  if (code < 1 || code > 4) return exception(code, ILLEGAL_FUNCTION);
  if (pdu.length !== 5) return exception(code, ILLEGAL_VALUE);
  const at = pdu.readUInt16BE(1);
  const count = pdu.readUInt16BE(3);
  return code <= 2
    ? bitsAnswer(code, image.coils(), at, count)
    : wordsAnswer(code, image.registers(), at, count);
};

/** A frame that breaks the MBAP rules ends the connection: there is no telling where the next one begins. */
const serve = (socket: Socket, image: ModbusImage): void => {
  let rest = Buffer.alloc(0);
  socket.setNoDelay(true);
  socket.on('data', (data) => {
    rest = Buffer.concat([rest, data]);
    while (rest.length >= 8) {
      const length = rest.readUInt16BE(4);
      if (rest.readUInt16BE(2) !== 0 || length < 2 || length > 254) {
        socket.destroy();
        return;
      }
      if (rest.length < 6 + length) return;
      const pdu = answer(image, rest.subarray(7, 6 + length));
      const head = Buffer.from(rest.subarray(0, 7));
      head.writeUInt16BE(pdu.length + 1, 4);
      socket.write(Buffer.concat([head, pdu]));
      rest = rest.subarray(6 + length);
    }
  });
};

export const startModbus = (image: ModbusImage, host: string, port: number): Promise<Listening> =>
  listen(
    'Modbus TCP',
    createServer((socket) => serve(socket, image)),
    host,
    port,
  );
