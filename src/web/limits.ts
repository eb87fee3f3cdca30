import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { Barred } from './refusal.ts';

type Limit = ReturnType<FastifyInstance['createRateLimit']>;

const MINUTE = 60_000;
/** A tablet with all pages open asks a few times a second; a stream is one request for as long as it runs. */
const ANYTHING = { max: 3_000, timeWindow: MINUTE };
/** Of all that is refused because nobody knows who asks. */
const SIGN_IN_FROM = { max: 60, timeWindow: 5 * MINUTE };
const SIGN_IN_AS = { max: 30, timeWindow: 5 * MINUTE };

/** How often may be asked from one address, and signed in from one address and to one account. */
export interface Limits {
  any(request: FastifyRequest, reply: FastifyReply): Promise<void>;
  signIn(request: FastifyRequest, reply: FastifyReply, id: string): Promise<void>;
}

export const limitsOf = async (server: FastifyInstance): Promise<Limits> => {
  await server.register(rateLimit, { global: false });
  const any = server.createRateLimit(ANYTHING);
  const from = server.createRateLimit(SIGN_IN_FROM);
  const accounts = new WeakMap<FastifyRequest, string>();
  const as = server.createRateLimit({
    ...SIGN_IN_AS,
    keyGenerator: (request) => `account ${accounts.get(request) ?? ''}`,
  });
  const hold = async (limit: Limit, request: FastifyRequest, reply: FastifyReply): Promise<void> => {
    const found = await limit(request);
    if (found.isAllowed || !found.isExceeded) return;
    reply.header('retry-after', found.ttlInSeconds);
    throw new Barred(429, 'too-often', { seconds: found.ttlInSeconds });
  };
  return {
    any: (request, reply) => hold(any, request, reply),
    async signIn(request, reply, id) {
      accounts.set(request, id);
      await hold(from, request, reply);
      await hold(as, request, reply);
    },
  };
};
