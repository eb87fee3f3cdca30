/** One Modbus source on a device that the test plays; answers and events as they come. */

import type { AddressInfo } from 'node:net';
import { createServer, type Socket } from 'node:net';
import { type OpenSource, openModbus } from '../../../src/field/index.ts';
import { instant, type SignalId } from '../../../src/measure/index.ts';
import {
  type Answer,
  type Line,
  type ModbusSource,
  planReads,
  type Request,
  type SignalDef,
  type Table,
} from '../../../src/signal/index.ts';
import { polled, QUICK } from '../signal/rig.ts';
import { type Recorder, recorder } from './recorder.ts';

const began = process.hrtime.bigint();
export const clock = { now: () => instant(1e15 + Number((process.hrtime.bigint() - began) / 1_000n)) };

export const signalAt = (index: number, table: Table, at: number, source = 0): SignalDef => ({
  id: index as SignalId,
  name: `s${index}`,
  source,
  address: { kind: 'modbus', table, at },
  decoding:
    table === 'holding' || table === 'input'
      ? { as: 'number', type: 'uint16', order: 'ABCD', scale: 1, offset: 0, faults: [] }
      : { as: 'bit', inverted: false },
  quantity: 'count',
  unit: 'count',
  states: [],
  resolution: 1,
  accuracy: 0,
  age: 0,
  agedAfter: 1_000_000,
});

export interface Watched extends Omit<Recorder, 'sink'> {
  /** The first of them. */
  readonly source: OpenSource;
  readonly sources: readonly OpenSource[];
  stop(): Promise<void>;
}

export const sourceOn = (line: Line, more: Partial<ModbusSource> = {}): ModbusSource =>
  polled({ line, ...QUICK, timeout: 150_000, ...more });

export const tcp = (port: number): Line => ({ kind: 'tcp', host: '127.0.0.1', port });

/** Opens these sources together; `signals` name them by index. Requests are of the pace `watch` unless told otherwise. */
export const watchAll = (
  sources: readonly ModbusSource[],
  signals: readonly SignalDef[],
  paceOf: (request: Request) => 'watch' | 'slow' = () => 'watch',
): Watched => {
  const { sink, ...recorded } = recorder();
  const planned = planReads(signals, sources, []);
  const plan = { ...planned, requests: planned.requests.map((one) => ({ ...one, pace: paceOf(one) })) };
  const opened = [...openModbus(sources, plan, signals, sink, clock).values()];
  return {
    ...recorded,
    source: opened[0]!,
    sources: opened,
    stop: async () => {
      await Promise.all(opened.map((one) => one.stop()));
    },
  };
};

/** One source on a TCP port. */
export const watch = (
  port: number,
  signals: readonly SignalDef[],
  more: Partial<ModbusSource> = {},
): Watched => watchAll([sourceOn(tcp(port), more)], signals);

export const words = (answers: readonly Answer[]) => answers.filter((one) => one.kind === 'words');
export const nothings = (answers: readonly Answer[]) => answers.filter((one) => one.kind === 'nothing');

/** What is known of a request by now: its newest words, from all the parts that it was asked in. */
export const newest = (answers: readonly Answer[], request = 0): number[] => {
  const known: number[] = [];
  for (const one of answers)
    if (one.kind === 'words' && one.request === request)
      one.words.forEach((word, at) => {
        if (word !== -2) known[at] = word;
      });
  return known;
};

/** Builds an answer to a whole request frame of 12 bytes; undefined: says nothing. */
export type Behaviour = (request: Buffer, socket: Socket) => Buffer | undefined;

/** The right answer: each register reads its own address. */
export const right = (request: Buffer): Buffer => {
  const count = request.readUInt16BE(10);
  const answer = Buffer.alloc(9 + count * 2);
  request.copy(answer, 0, 0, 8);
  answer.writeUInt16BE(3 + count * 2, 4);
  answer[8] = count * 2;
  for (let index = 0; index < count; index += 1)
    answer.writeUInt16BE(request.readUInt16BE(8) + index, 9 + index * 2);
  return answer;
};

export interface Device {
  readonly port: number;
  /** Connections that are open, and that ever were. */
  readonly connections: () => { readonly open: number; readonly all: number };
  behave(next: Behaviour): void;
  /** Resolves once no connection is open. */
  quiet(): Promise<void>;
  /** The connections go, the port stays. */
  drop(): void;
  stop(): Promise<void>;
}

/** A device behind a port; `size`: bytes of one question. The port can be one that was free a moment ago. */
export const device = async (first: Behaviour = right, size = 12, at = 0): Promise<Device> => {
  let behaviour = first;
  let all = 0;
  const sockets = new Set<Socket>();
  const quiet: (() => void)[] = [];
  const server = createServer({ noDelay: true }, (socket) => {
    all += 1;
    sockets.add(socket);
    socket.on('error', () => undefined);
    socket.on('close', () => {
      sockets.delete(socket);
      if (sockets.size === 0) for (const tell of quiet.splice(0)) tell();
    });
    let held = Buffer.alloc(0);
    socket.on('data', (data) => {
      held = Buffer.concat([held, data]);
      for (; held.length >= size; held = held.subarray(size)) {
        const answer = behaviour(Buffer.from(held.subarray(0, size)), socket);
        if (answer !== undefined && !socket.destroyed) socket.write(answer);
      }
    });
  });
  await new Promise<void>((resolve) => server.listen(at, '127.0.0.1', resolve));
  return {
    port: (server.address() as AddressInfo).port,
    connections: () => ({ open: sockets.size, all }),
    behave: (next) => {
      behaviour = next;
    },
    quiet: () =>
      new Promise((resolve) => {
        if (sockets.size === 0) resolve();
        else quiet.push(resolve);
      }),
    drop: () => {
      for (const socket of sockets) socket.resetAndDestroy();
    },
    stop: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        for (const socket of sockets) socket.destroy();
      }),
  };
};

/** CRC of an RTU frame, bit by bit as Serial Line V1.02 describes it. */
export const withCrc = (body: Uint8Array): Buffer => {
  let crc = 0xffff;
  for (const byte of body) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ 0xa001 : crc >>> 1;
  }
  return Buffer.concat([body, Buffer.from([crc & 0xff, crc >> 8])]);
};

/** The right answer to an RTU question of 8 bytes: each register reads its own address. */
export const rightRtu = (question: Buffer): Buffer => {
  const header = Buffer.from([0, 0, 0, 0, 0, 6]);
  return withCrc(right(Buffer.concat([header, question.subarray(0, 6)])).subarray(6));
};
