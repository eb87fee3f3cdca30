/** One Modbus source on a device that the test plays; answers and events as they come. */

import type { AddressInfo } from 'node:net';
import { createServer, type Socket } from 'node:net';
import { type FieldEvent, type OpenSource, openModbus } from '../../../src/field/index.ts';
import { instant, type SignalId } from '../../../src/measure/index.ts';
import {
  type Answer,
  type ModbusSource,
  planReads,
  type SignalDef,
  type Table,
} from '../../../src/signal/index.ts';

const began = process.hrtime.bigint();
export const clock = { now: () => instant(1e15 + Number((process.hrtime.bigint() - began) / 1_000n)) };

export const signalAt = (index: number, table: Table, at: number): SignalDef => ({
  id: index as SignalId,
  name: `s${index}`,
  source: 0,
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

export interface Watched {
  readonly answers: Answer[];
  readonly events: FieldEvent[];
  readonly source: OpenSource;
  /** Resolves once what came satisfies the test. */
  until(test: (answers: readonly Answer[], events: readonly FieldEvent[]) => boolean): Promise<void>;
}

export const watch = (
  port: number,
  signals: readonly SignalDef[],
  more: Partial<ModbusSource> = {},
): Watched => {
  const source: ModbusSource = {
    protocol: 'modbus',
    name: 'device',
    line: { kind: 'tcp', host: '127.0.0.1', port },
    unit: 1,
    poll: 20_000,
    windowPoll: 20_000,
    slowPoll: 20_000,
    inFlight: 1,
    pause: 0,
    connection: 'shared',
    timeout: 150_000,
    scan: 0,
    scanConsistent: false,
    maxRegisters: 125,
    maxBits: 2_000,
    maxGap: 0,
    ...more,
  };
  const answers: Answer[] = [];
  const events: FieldEvent[] = [];
  let check = (): void => undefined;
  const sink = {
    answer: (answer: Answer) => {
      answers.push(answer);
      check();
    },
    event: (event: FieldEvent) => {
      events.push(event);
      check();
    },
  };
  const opened = openModbus([source], planReads(signals, [source], []), signals, sink, clock).get(0)!;
  return {
    answers,
    events,
    source: opened,
    until: (test) =>
      new Promise((resolve) => {
        check = () => {
          if (test(answers, events)) resolve();
        };
        check();
      }),
  };
};

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
  behave(next: Behaviour): void;
  stop(): Promise<void>;
}

export const device = async (first: Behaviour = right): Promise<Device> => {
  let behaviour = first;
  const sockets = new Set<Socket>();
  const server = createServer((socket) => {
    sockets.add(socket);
    socket.on('error', () => undefined);
    socket.on('close', () => sockets.delete(socket));
    socket.on('data', (data) => {
      for (let at = 0; at + 12 <= data.length; at += 12) {
        const answer = behaviour(data.subarray(at, at + 12), socket);
        if (answer !== undefined && !socket.destroyed) socket.write(answer);
      }
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    port: (server.address() as AddressInfo).port,
    behave: (next) => {
      behaviour = next;
    },
    stop: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        for (const socket of sockets) socket.destroy();
      }),
  };
};
