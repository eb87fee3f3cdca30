import { connect, createServer } from 'node:net';
import { createInterface } from 'node:readline';
import { type Listening, listen } from './listen.ts';
import { type HandAnswer, type HandCommand, readHand } from './model/index.ts';

const answerTo = (line: string, apply: (command: HandCommand) => HandAnswer): HandAnswer => {
  let given: unknown;
  try {
    given = JSON.parse(line);
  } catch (error) {
    return { ok: false, error: `not JSON: ${error instanceof Error ? error.message : String(error)}` };
  }
  const read = readHand(given);
  return 'error' in read ? { ok: false, error: read.error } : apply(read.command);
};

/** A line of JSON in, a line of JSON out, in order. Meant for loopback: whoever reaches it moves the plant. */
export const startHands = (
  apply: (command: HandCommand) => HandAnswer,
  host: string,
  port: number,
): Promise<Listening> => {
  const server = createServer((socket) => {
    createInterface({ input: socket }).on('line', (line) =>
      socket.write(`${JSON.stringify(answerTo(line, apply))}\n`),
    );
  });
  return listen('the hands channel', server, host, port);
};

export interface Hands {
  /** Resolves with the answer; rejects where the plant is gone. */
  do(command: HandCommand): Promise<HandAnswer>;
  close(): void;
}

const GONE = 'the simulated plant closed the hands channel';

/** Rejects where no plant answers there. */
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
    for (const one of waiting.splice(0)) one.reject(new Error(GONE));
  };
  socket.on('close', fail);
  socket.on('error', fail);
  return {
    do: (command) =>
      new Promise((resolve, reject) => {
        if (socket.destroyed || socket.readableEnded) return reject(new Error(GONE));
        waiting.push({ resolve, reject });
        socket.write(`${JSON.stringify(command)}\n`);
      }),
    close: () => socket.destroy(),
  };
};
