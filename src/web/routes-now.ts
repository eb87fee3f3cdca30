import type { FastifyReply } from 'fastify';
import type { FindingTold, Now } from '../api/index.ts';
import type { GuideState } from '../guide/index.ts';
import type { On } from './answering.ts';

export interface NowBehind {
  now(): Now;
  listen(ear: (told: FindingTold & { readonly window: string }) => void): () => void;
  /** Where the guided window stands, whenever that has changed. */
  follow(ear: (state: GuideState) => void): () => void;
}

/** Server-sent events; a listener that does not read is let go, so that it cannot fill the memory. */
const stream = (behind: NowBehind, reply: FastifyReply): FastifyReply => {
  reply.hijack();
  const { raw } = reply;
  raw.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
  const send = (name: string, value: unknown): void => {
    if (raw.writableLength > 1_000_000) raw.destroy();
    else raw.write(`event: ${name}\ndata: ${JSON.stringify(value)}\n\n`);
  };
  const quiet = behind.listen((told) => send('finding', told));
  const unfollow = behind.follow((state) => send('guide', state));
  const timer = setInterval(() => send('now', behind.now()), 500);
  send('now', behind.now());
  raw.on('close', () => {
    clearInterval(timer);
    quiet();
    unfollow();
  });
  return reply;
};

/** What is now, once and as it goes on. */
export const nowRoutes = (on: On, behind: NowBehind): void => {
  on('GET /api/now', () => behind.now());
  on('GET /api/stream', (_asked, reply) => stream(behind, reply));
};
