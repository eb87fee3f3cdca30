import { connect, createServer, type Socket } from 'node:net';
import { createInterface } from 'node:readline';
import { listen } from './listen.ts';
import type { Listening } from './modbus-server.ts';
import type { HandAnswer, HandCommand } from './model/index.ts';

/** A line of JSON in, a line of JSON out. Local only. */
export const startHands = async (
  apply: (command: HandCommand) => HandAnswer,
  host: string,
  port: number,
): Promise<Listening> => {
  const sockets = new Set<Socket>();
  const read = (line: string): HandAnswer => {
    try {
      return apply(JSON.parse(line) as HandCommand);
    } catch (error) {
      return { ok: false, error: `not a command in JSON: ${String(error)}` };
    }
  };
  const server = createServer((socket) => {
    sockets.add(socket);
    socket.on('error', () => socket.destroy());
    socket.on('close', () => sockets.delete(socket));
    createInterface({ input: socket }).on('line', (line) => socket.write(`${JSON.stringify(read(line))}\n`));
  });
  return listen(server, host, port, sockets);
};

export interface Hands {
  /** Resolves with the answer; rejects where the plant is gone. */
  do(command: HandCommand): Promise<HandAnswer>;
  close(): void;
}

export const connectHands = async (host: string, port: number): Promise<Hands> => {
  const socket = connect(port, host);
  await new Promise<void>((resolve, reject) => {
    socket.once('connect', resolve);
    socket.once('error', reject);
  });
  const waiting: { resolve: (answer: HandAnswer) => void; reject: (error: Error) => void }[] = [];
  createInterface({ input: socket }).on('line', (line) =>
    waiting.shift()?.resolve(JSON.parse(line) as HandAnswer),
  );
  const fail = (): void => {
    for (const one of waiting.splice(0)) one.reject(new Error('the plant closed the hands channel'));
  };
  socket.on('close', fail);
  socket.on('error', fail);
  return {
    do: (command) =>
      new Promise((resolve, reject) => {
        waiting.push({ resolve, reject });
        socket.write(`${JSON.stringify(command)}\n`);
      }),
    close: () => socket.destroy(),
  };
};
