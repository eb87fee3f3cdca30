import type { FastifyRequest } from 'fastify';
import { Declined } from '../api/index.ts';
import type { On } from './answering.ts';
import type { Limits } from './limits.ts';
import type { Place } from './place.ts';
import { Barred } from './refusal.ts';
import { type About, cookieName, type SessionsBehind, sessionNow } from './session.ts';

const addressOf = ({ ip }: FastifyRequest): string => ip.replace(/^::ffff:(?=\d+\.)/, '').slice(0, 60);

/** Signing in and out. The cookie is out of reach of scripts and goes with no request that another page began. */
export const sessionRoutes = (
  on: On,
  place: Place,
  about: About,
  sessions: SessionsBehind,
  limits: Limits,
): void => {
  const cookieOf = (request: FastifyRequest) => ({
    name: cookieName(place, request),
    options: { path: '/', httpOnly: true, sameSite: 'strict', secure: place.tls !== undefined } as const,
  });
  on('GET /api/session', ({ request }) => sessionNow(place, about, request.signedIn));
  on('POST /api/session', async ({ body: { id, password }, request }, reply) => {
    if (place.access === 'open') throw new Barred(409, 'session-open');
    await limits.signIn(request, reply, id);
    const secret = await sessions.signIn(id, password, addressOf(request)).catch((error: unknown) => {
      if (error instanceof Declined) throw new Barred(401, error.reason);
      throw error;
    });
    const account = sessions.account(secret);
    if (account === undefined) throw new Barred(401, 'session-needed');
    // Whoever was signed in here before is not any more.
    if (request.signedIn !== undefined) await sessions.signOut(request.signedIn.secret, addressOf(request));
    const { name, options } = cookieOf(request);
    reply.setCookie(name, secret, options);
    return sessionNow(place, about, { secret, account });
  });
  on('DELETE /api/session', async ({ request }, reply) => {
    if (request.signedIn !== undefined) await sessions.signOut(request.signedIn.secret, addressOf(request));
    const { name, options } = cookieOf(request);
    reply.clearCookie(name, options);
    return sessionNow(place, about, undefined);
  });
};
