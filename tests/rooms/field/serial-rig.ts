/** Lines without transaction ids: a device behind a converter (RTU frames on TCP), or at the other end of a pty pair. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { SerialPort } from 'serialport';
import type { Line } from '../../../src/signal/index.ts';
import { device } from './rig.ts';

/** Answers a question of 8 bytes through `say`, as often and as late as it likes. */
export type Talk = (question: Buffer, say: (bytes: Uint8Array) => void) => void;

export interface RtuDevice {
  readonly line: Line;
  behave(next: Talk): void;
  /** Says something that nobody asked for. */
  blurt(bytes: Uint8Array): void;
  stop(): Promise<void>;
}

export const converter = async (first: Talk): Promise<RtuDevice> => {
  let talk = first;
  let blurt = (_bytes: Uint8Array): void => undefined;
  const peer = await device((question, socket) => {
    const say = (bytes: Uint8Array): void => {
      if (!socket.destroyed) socket.write(bytes);
    };
    blurt = say;
    talk(question, say);
    return undefined;
  }, 8);
  return {
    line: { kind: 'rtu-over-tcp', host: '127.0.0.1', port: peer.port },
    behave: (next) => {
      talk = next;
    },
    blurt: (bytes) => blurt(bytes),
    stop: () => peer.stop(),
  };
};

export const hasSocat = spawnSync('socat', ['-V']).status === 0;

const pair = (): Promise<{ readonly child: ChildProcess; readonly ends: readonly [string, string] }> =>
  new Promise((resolve, reject) => {
    const child = spawn('socat', ['-d', '-d', 'pty,raw,echo=0', 'pty,raw,echo=0']);
    let said = '';
    child.stderr.on('data', (data: Buffer) => {
      said += data.toString();
      const [first, second] = [...said.matchAll(/PTY is (\S+)/g)].map((found) => found[1]!);
      if (first && second && said.includes('starting data transfer'))
        resolve({ child, ends: [first, second] });
    });
    child.once('exit', () => reject(new Error(said)));
  });

export const ptyDevice = async (first: Talk): Promise<RtuDevice> => {
  let talk = first;
  const { child, ends } = await pair();
  const port = new SerialPort({ path: ends[1], baudRate: 115_200, autoOpen: false });
  await new Promise<void>((resolve, reject) => port.open((error) => (error ? reject(error) : resolve())));
  const say = (bytes: Uint8Array): void => {
    if (port.isOpen) port.write(Buffer.from(bytes));
  };
  let held = Buffer.alloc(0);
  port.on('data', (data: Buffer) => {
    held = Buffer.concat([held, data]);
    for (; held.length >= 8; held = held.subarray(8)) talk(Buffer.from(held.subarray(0, 8)), say);
  });
  const line = { path: ends[0], baud: 115_200, parity: 'none', dataBits: 8, stopBits: 1 } as const;
  return {
    line: { kind: 'serial', ...line },
    behave: (next) => {
      talk = next;
    },
    blurt: say,
    stop: async () => {
      await new Promise<void>((resolve) => port.close(() => resolve()));
      const ended = new Promise<void>((resolve) => child.once('close', () => resolve()));
      child.kill();
      await ended;
    },
  };
};
