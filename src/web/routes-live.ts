import type { FastifyReply } from 'fastify';
import { type BookNow, Declined, eventText, type QueryOf } from '../api/index.ts';
import type { On } from './answering.ts';
import { Barred } from './refusal.ts';
import { streaming } from './streaming.ts';

/** What a live trace needs of the daemon. */
export interface LiveBehind {
  bookNow(): BookNow;
  readonly live: {
    /** `to` gets events as bytes. Throws `Declined` for what cannot be followed. */
    follow(
      question: { readonly signals: readonly string[]; readonly every: number },
      to: (event: Buffer) => void,
    ): { begin(span: number): string; stop(): void };
  };
}

/** Bytes that may wait for a client; beyond, its rows are dropped. */
const MOST_WAITING = 256_000;
/** From here on it may begin anew. */
const FEW_WAITING = 32_000;
/** A client that has missed so much is not there: its page asks again by itself when it is. */
const MOST_DROPPED = 1_000_000;

/** What cannot be followed was asked wrongly. */
const asUnfit = (error: unknown): unknown =>
  error instanceof Declined ? new Barred(400, error.reason) : error;

const follow = (behind: LiveBehind, reply: FastifyReply, query: QueryOf<'GET /api/live'>): FastifyReply => {
  const { span, every } = query;
  const signals = query.signals.split(',').filter((name) => name !== '');
  const { raw } = reply;
  let dropped = { events: 0, bytes: 0 };
  let beginning = false;
  const begin = (): void => {
    beginning = true;
    const text = follower.begin(span);
    beginning = false;
    raw.write(text);
  };
  const write = (event: Buffer): void => {
    if (beginning || raw.destroyed) return;
    if (raw.writableLength > (dropped.events > 0 ? FEW_WAITING : MOST_WAITING)) {
      dropped = { events: dropped.events + 1, bytes: dropped.bytes + event.length };
      if (dropped.bytes > MOST_DROPPED) raw.destroy();
      return;
    }
    if (dropped.events === 0) {
      raw.write(event);
      return;
    }
    raw.write(eventText('skipped', { rows: dropped.events }));
    dropped = { events: 0, bytes: 0 };
    begin();
  };
  let follower: ReturnType<LiveBehind['live']['follow']>;
  try {
    follower = behind.live.follow({ signals, every }, write);
  } catch (error) {
    throw asUnfit(error);
  }
  raw.on('close', () => follower.stop());
  streaming(reply);
  begin();
  return reply;
};

export const liveRoutes = (on: On, behind: LiveBehind): void => {
  on('GET /api/book', () => behind.bookNow());
  on('GET /api/live', ({ query }, reply) => follow(behind, reply, query));
};
