import cookie from '@fastify/cookie';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { enteringSchema, isEntitled, ROUTES, type Route, type RouteName, roleToEnter } from '../api/index.ts';
import type { AccountRole } from '../record/index.ts';
import { type Limits, limitsOf } from './limits.ts';
import { isNamed, isOwnPage, type Place } from './place.ts';
import { Barred } from './refusal.ts';
import { cookieName, isCsrf, type SessionsBehind, type SignedIn } from './session.ts';

const CSP =
  "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self' data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
const YEAR = 31_536_000;

/** Whether the table of routes has this one. */
const isKnown = (name: string): name is RouteName => Object.hasOwn(ROUTES, name);

/** Reads, and changes nothing. */
const isReading = (method: string): boolean => method === 'GET' || method === 'HEAD';

const nameOf = (method: string, url: string): string => `${method === 'HEAD' ? 'GET' : method} ${url}`;

/** The line of the table that a request came in by; undefined: a file of the page, or nothing that there is. */
const routeOf = ({ method, routeOptions: { url } }: FastifyRequest): Route | undefined => {
  const name = nameOf(method, url ?? '');
  return isKnown(name) ? ROUTES[name] : undefined;
};

/** Nothing is served under /api that is not in the table of routes; beside it, only files are read. */
const guardRoutes = (server: FastifyInstance): void => {
  server.addHook('onRoute', ({ method, url }) => {
    for (const one of [method].flat()) {
      const name = nameOf(one, url);
      if (url.startsWith('/api/') ? !isKnown(name) : !isReading(one))
        throw new Error(
          `${name} is not in the table of routes (src/api/routes.ts): nobody says who may ask for it`,
        );
    }
  });
};

const headers = ({ tls }: Place, { url }: FastifyRequest, reply: FastifyReply): void => {
  reply
    .header('content-security-policy', CSP)
    .header('x-content-type-options', 'nosniff')
    .header('referrer-policy', 'no-referrer')
    .header('cross-origin-opener-policy', 'same-origin')
    .header('cross-origin-resource-policy', 'same-origin');
  // What was told to one who signed in must not lie about in a browser.
  if (url.startsWith('/api/')) reply.header('cache-control', 'no-store');
  if (tls !== undefined) reply.header('strict-transport-security', `max-age=${YEAR}`);
};

const mustBe = (role: AccountRole, { account }: SignedIn): void => {
  if (!isEntitled(account.roles, role)) throw new Barred(403, 'session-role', { role, id: account.id });
};

/** Who is asking, by his cookie. */
const signedIn = (place: Place, sessions: SessionsBehind, request: FastifyRequest): SignedIn | undefined => {
  const secret = request.cookies[cookieName(place, request)];
  const account = secret === undefined ? undefined : sessions.account(secret);
  return secret === undefined || account === undefined ? undefined : { secret, account };
};

/** What the account that asks is entitled to, as the table of routes says; of a paper, once it was read. */
const entitle = (route: Route, request: FastifyRequest): void => {
  const { signedIn: who } = request;
  if (route.role === 'anybody') return;
  if (who === undefined) throw new Barred(401, 'session-needed');
  if (route.role !== 'by-request') {
    mustBe(route.role, who);
    return;
  }
  const asked = enteringSchema.safeParse(request.body);
  // What is not a request at all is refused as such.
  if (asked.success) mustBe(roleToEnter(asked.data, who.account.id), who);
};

/** Streams run on: they end with the session that they were opened in. */
const endWith = (sessions: SessionsBehind, { secret }: SignedIn, reply: FastifyReply): void => {
  const quiet = sessions.onEnd(secret, () => reply.raw.destroy());
  reply.raw.once('close', quiet);
};

/**
 * Who gets in: the right name, from no other page, not too often, and where accounts are asked for, signed in, with the token
 * of the session and the role that the table of routes says. To be called before any route is added.
 */
export const gate = async (
  server: FastifyInstance,
  place: Place,
  sessions: SessionsBehind,
): Promise<Limits> => {
  guardRoutes(server);
  await server.register(cookie);
  const limits = await limitsOf(server);
  const isOpen = place.access === 'open';
  server.decorateRequest('signedIn', undefined);
  server.addHook('onRequest', async (request, reply) => {
    headers(place, request, reply);
    if (!isNamed(place, request)) throw new Barred(403, 'foreign-name');
    if (!isOwnPage(place, request)) throw new Barred(403, 'foreign-page');
    if (isOpen) return;
    await limits.any(request, reply);
    const route = routeOf(request);
    if (route === undefined) return;
    const who = signedIn(place, sessions, request);
    request.signedIn = who;
    if (who !== undefined && !isReading(request.method)) {
      if (!isCsrf(who.secret, request.headers['x-tripwitness-csrf'])) throw new Barred(403, 'session-token');
    }
    if (route.role !== 'by-request') entitle(route, request);
    else if (who === undefined) throw new Barred(401, 'session-needed');
    if (who !== undefined && 'events' in route.answer) endWith(sessions, who, reply);
  });
  server.addHook('preHandler', async (request) => {
    const route = isOpen ? undefined : routeOf(request);
    if (route?.role === 'by-request') entitle(route, request);
  });
  return limits;
};
