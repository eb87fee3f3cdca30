/** The gate in front of every route: what is not in the table does not start, and nobody asks too often. */
import Fastify from 'fastify';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { ROUTES } from '../../../src/api/index.ts';
import type { Account } from '../../../src/record/index.ts';
import { answering } from '../../../src/web/answering.ts';
import { gate } from '../../../src/web/gate.ts';
import type { Place } from '../../../src/web/place.ts';
import { onError } from '../../../src/web/refusal.ts';
import { csrfOf, isCsrf, type SessionsBehind } from '../../../src/web/session.ts';
import { sessionRoutes } from '../../../src/web/session-routes.ts';

const PLACE: Place = { host: '127.0.0.1', port: 0, access: 'accounts' };
const ADA: Account = { id: 'ada', name: 'Ada Post', roles: ['tester'], standing: 'open', password: 1 };
const sessions: SessionsBehind = {
  signIn: async () => 'secret',
  account: (secret) => (secret === 'secret' ? ADA : undefined),
  signOut: async () => undefined,
  onEnd: () => () => undefined,
};

let server: ReturnType<typeof Fastify>;
beforeEach(() => {
  server = Fastify();
  server.setErrorHandler(onError);
});
afterEach(() => server.close());

const served = async (place = PLACE): Promise<string> => {
  const limits = await gate(server, place, sessions);
  sessionRoutes(answering(server), place, { site: 's', title: 't', tool: '1' }, sessions, limits);
  return server.listen({ host: '127.0.0.1', port: 0 });
};
const signIn = (url: string, id: string) =>
  fetch(`${url}/api/session`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ id, password: 'x' }),
  });

test('a route that is not in the table does not start, nor does anything but reading beside the API', async () => {
  await gate(server, PLACE, sessions);
  const none = async () => null;
  expect(() => server.get('/api/none', none)).toThrow('GET /api/none is not in the table of routes');
  expect(() => server.delete('/api/now', none)).toThrow('table of routes');
  expect(() => server.put('/page.css', none)).toThrow('table of routes');
  expect(() => server.get('/page.css', none)).not.toThrow();
  expect(() => server.get('/api/now', none)).not.toThrow();
});

test('every route of the table says who may ask', () => {
  for (const [name, { role, says }] of Object.entries(ROUTES)) {
    expect(['anybody', 'by-request', 'viewer', 'tester', 'reviewer', 'administrator'], name).toContain(role);
    expect(says).toMatch(/^[A-Z].*\.$/);
  }
  const open = Object.entries(ROUTES).filter(([, { role }]) => role === 'anybody');
  expect(open.map(([name]) => name).sort()).toEqual([
    'DELETE /api/session',
    'GET /api/log',
    'GET /api/session',
    'POST /api/session',
  ]);
});

test('signing in to one account is held up after 30 times, and from one address after 60', async () => {
  const url = await served();
  for (let time = 0; time < 30; time += 1) expect((await signIn(url, 'ada')).status).toBe(201);
  const held = await signIn(url, 'ada');
  expect(held.status).toBe(429);
  expect(await held.json()).toMatchObject({ code: 'too-often' });
  const seconds = Number(held.headers.get('retry-after'));
  expect(seconds).toBeGreaterThan(0);
  expect(seconds).toBeLessThanOrEqual(300);
  for (let time = 31; time < 60; time += 1) expect((await signIn(url, `other${time}`)).status).toBe(201);
  expect((await signIn(url, 'one-more')).status).toBe(429);
  // Whoever is in goes on.
  expect((await fetch(`${url}/api/session`)).status).toBe(200);
});

test('everything else is held up only far beyond what a tablet asks', async () => {
  const url = await served();
  let [passed, held] = [0, 0];
  for (let turn = 0; turn < 31; turn += 1) {
    const answers = await Promise.all(Array.from({ length: 100 }, () => fetch(`${url}/api/session`)));
    for (const { status } of answers) {
      if (status === 200) passed += 1;
      if (status === 429) held += 1;
    }
  }
  expect([passed, held]).toEqual([3_000, 100]);
});

test('where it is open nobody is held up', async () => {
  const url = await served({ port: 0, access: 'open' });
  const answers = await Promise.all(Array.from({ length: 200 }, () => fetch(`${url}/api/session`)));
  expect(answers.every(({ status, headers }) => status === 200 && !headers.has('set-cookie'))).toBe(true);
});

test('the token of a session is its own, whole, and not the secret', () => {
  const token = csrfOf('secret');
  expect(token).toMatch(/^[A-Za-z0-9_-]{43}$/);
  expect(isCsrf('secret', token)).toBe(true);
  for (const wrong of ['', undefined, ['x'], token.slice(1), `${token}x`, csrfOf('other'), 'secret'])
    expect(isCsrf('secret', wrong)).toBe(false);
});
