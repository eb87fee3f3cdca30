/**
 * A good Modbus device for the fault campaign, in this process: functions 1 to 4 for any unit, its words worked out
 * from the clock (`truth.ts`) at the moment of the answer.
 */
import { type AddressInfo, createServer, type Server, type Socket } from 'node:net';
import { crcOf, exceptionFor, type Framing, splitter, unitAt, withCrc } from './frames.ts';
import { clock, MAP, TABLES, tickAt, wordAt } from './truth.ts';

export interface ClockedPeer {
  readonly port: number;
  stop(): Promise<void>;
}

const LAST_OF_BITS = 2;

/** Data bytes for one whole question: unit, function, address, quantity. */
const dataOf = (unit: number, code: number, at: number, count: number): Buffer => {
  const table = TABLES[code - 1]!;
  const tick = tickAt(clock.now());
  const bits = code <= LAST_OF_BITS;
  const data = Buffer.alloc(bits ? Math.ceil(count / 8) : count * 2);
  for (let index = 0; index < count; index += 1) {
    const word = wordAt(unit, table, at + index, tick);
    if (bits) data[index >> 3]! |= word << (index & 7);
    else data.writeUInt16BE(word, index * 2);
  }
  return data;
};

const answerTo = (framing: Framing, question: Buffer): Buffer | undefined => {
  const from = unitAt(framing);
  if (
    framing === 'rtu' &&
    (question.length !== 8 || crcOf(question.subarray(0, 6)) !== question.readUInt16LE(6))
  )
    return undefined;
  const unit = question[from]!;
  const code = question[from + 1]!;
  if (code < 1 || code > 4 || question.length < from + 6) return exceptionFor(framing, question, 1);
  const at = question.readUInt16BE(from + 2);
  const count = question.readUInt16BE(from + 4);
  const bits = code <= LAST_OF_BITS;
  if (count < 1 || count > (bits ? 2_000 : 125)) return exceptionFor(framing, question, 3);
  if (at + count > (bits ? MAP.endBits : MAP.end)) return exceptionFor(framing, question, 2);
  const data = dataOf(unit, code, at, count);
  const body = Buffer.concat([Buffer.from([unit, code, data.length]), data]);
  if (framing === 'rtu') return withCrc(body);
  const head = Buffer.from(question.subarray(0, 6));
  head.writeUInt16BE(body.length, 4);
  return Buffer.concat([head, body]);
};

/** Bytes that are no frame are forgotten: the whole connection with MBAP, what came so far on a line without it. */
const serve = (framing: Framing, socket: Socket): void => {
  const cut = splitter(framing, 'question');
  socket.setNoDelay(true);
  socket.on('error', () => undefined);
  socket.on('data', (chunk) => {
    for (const question of cut(chunk)) {
      const odd = framing === 'mbap' && (question.readUInt16BE(2) !== 0 || question.length > 12);
      if (odd) {
        socket.destroy();
        return;
      }
      const answer = answerTo(framing, question);
      if (answer !== undefined) socket.write(answer);
    }
  });
};

export const startClockedPeer = async (framing: Framing): Promise<ClockedPeer> => {
  const sockets = new Set<Socket>();
  const server: Server = createServer((socket) => {
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket));
    serve(framing, socket);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    port: (server.address() as AddressInfo).port,
    stop: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        for (const socket of sockets) socket.destroy();
      }),
  };
};
