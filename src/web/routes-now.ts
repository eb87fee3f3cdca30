import type { FastifyReply } from 'fastify';
import { eventText, type FindingTold, type Now } from '../api/index.ts';
import type { GuideState } from '../guide/index.ts';
import type { On } from './answering.ts';
import { streaming } from './streaming.ts';

export interface NowBehind {
  now(): Now;
  listen(ear: (told: FindingTold & { readonly window: string }) => void): () => void;
  /** Where the guided window stands, whenever that has changed. */
  follow(ear: (state: GuideState) => void): () => void;
}

const EVERY_MS = 500;
/** Bytes that may wait for a listener. */
const MOST_WAITING = 1_000_000;

/** Calls whoever asks with what is now: at once, and from then on as it goes on, asked once for all of them. */
const createNowTold = (now: () => Now): ((ear: (value: Now) => void) => () => void) => {
  const ears = new Set<(value: Now) => void>();
  let timer: NodeJS.Timeout | undefined;
  return (ear) => {
    ear(now());
    ears.add(ear);
    timer ??= setInterval(() => {
      const value = now();
      for (const one of ears) one(value);
    }, EVERY_MS);
    return () => {
      ears.delete(ear);
      if (ears.size > 0) return;
      clearInterval(timer);
      timer = undefined;
    };
  };
};

/** An event as bytes; of the same value, which goes to all who listen, they are made once. */
const createBytes = (): ((name: string, value: object) => Buffer) => {
  const made = new WeakMap<object, Buffer>();
  return (name, value) => {
    const bytes = made.get(value) ?? Buffer.from(eventText(name, value));
    made.set(value, bytes);
    return bytes;
  };
};

/** What is now, once and as it goes on. */
export const nowRoutes = (on: On, behind: NowBehind): void => {
  const followNow = createNowTold(() => behind.now());
  const bytesOf = createBytes();

  /** Server-sent events; a listener that does not read is let go, so that it cannot fill the memory. */
  const stream = (reply: FastifyReply): FastifyReply => {
    const raw = streaming(reply);
    const send = (name: string, value: object): void => {
      if (raw.writableLength > MOST_WAITING) raw.destroy();
      else raw.write(bytesOf(name, value));
    };
    const leave = [
      behind.listen((told) => send('finding', told)),
      behind.follow((state) => send('guide', state)),
      followNow((now) => send('now', now)),
    ];
    raw.on('close', () => {
      for (const one of leave) one();
    });
    return reply;
  };

  on('GET /api/now', () => behind.now());
  on('GET /api/stream', (_asked, reply) => stream(reply));
};
