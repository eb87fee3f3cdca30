import { connect, type Socket } from 'node:net';
import { type Asked, askedIn, judgeFrame } from './frame.ts';

/** Why a connection came to nothing: a code of ours, and what the machine said. */
export interface Foul {
  readonly code: string;
  readonly detail: string;
}

/** Told by the seal, before the library sees the same bytes. */
export interface SealEars {
  complete(): void;
  foul(foul: Foul): void;
}

const codeOf = (error: Error): string => ('code' in error ? String(error.code) : error.name);

/** A TCP connection within `deadline` ms, or why not. Never leaves a socket behind that is still connecting. */
export const dial = (host: string, port: number, deadline: number): Promise<Socket | Foul> =>
  new Promise((resolve) => {
    const socket = connect({ host, port, noDelay: true, keepAlive: true, keepAliveInitialDelay: 5_000 });
    const end = (result: Socket | Foul): void => {
      clearTimeout(timer);
      socket.removeAllListeners();
      if (result !== socket) {
        socket.on('error', () => undefined);
        socket.destroy();
      }
      resolve(result);
    };
    const timer = setTimeout(() => end({ code: 'connect-timed-out', detail: `${deadline} ms` }), deadline);
    socket.once('connect', () => end(socket));
    socket.once('error', (error) => end({ code: 'connect-failed', detail: codeOf(error) }));
  });

/**
 * Puts a seal on a socket: only whole read questions leave, one at a time; only the answer to that question counts.
 * Anything else is a foul, told before the library's own listener runs, so that what it makes of it comes too late.
 */
export const seal = (socket: Socket, ears: SealEars): void => {
  let asked: Asked | undefined;
  let got = new Uint8Array(0);
  const foul = (code: string, detail = ''): void => ears.foul({ code, detail });

  const send = socket.write.bind(socket) as (chunk: Uint8Array) => boolean;
  const sealed = (chunk: Uint8Array): boolean => {
    const question = askedIn(chunk);
    if (question === undefined || asked !== undefined) {
      foul('not-a-read');
      return true;
    }
    asked = question;
    got = new Uint8Array(0);
    return send(chunk);
  };
  socket.write = sealed as typeof socket.write;

  socket.on('data', (chunk: Uint8Array) => {
    if (asked === undefined) return foul('unasked-bytes', `${chunk.length}`);
    const joined = new Uint8Array(got.length + chunk.length);
    joined.set(got);
    joined.set(chunk, got.length);
    got = joined;
    const judged = judgeFrame(asked, got);
    if (judged === 'incomplete') return;
    if (judged !== 'answers') return foul(judged.foul);
    asked = undefined;
    ears.complete();
  });
  socket.on('error', (error) => foul('connection-error', codeOf(error)));
  socket.on('end', () => foul('connection-ended'));
  socket.on('close', () => foul('connection-closed'));
};
