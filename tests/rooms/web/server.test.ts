/** The server in front of a daemon that is only pretended: who may ask, and what is refused how. */
import { request } from 'node:http';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Now } from '../../../src/api/index.ts';
import type { Book } from '../../../src/rulebook/index.ts';
import { type Behind, type Served, serve } from '../../../src/web/index.ts';

const NOW: Now = { site: 's', title: 't', utc: '', sources: [], signals: [], interlocks: [] };
const book = { interlocks: [{ id: 0, name: 'E1.stop' }], machines: [{ index: 0, name: 'E1' }] };
const ears = new Set<unknown>();
const opened: unknown[] = [];
const behind: Behind = {
  book: book as unknown as Book,
  now: () => NOW,
  async open(asked) {
    opened.push(asked);
    return { id: 'w1', show: () => ({ window: 'w1', standing: 'open', opened: '', findings: [] }) };
  },
  window: () => undefined,
  mark: async () => 1,
  close: async () => {
    throw new RangeError('window w1 is not open on this daemon');
  },
  listen(ear) {
    ears.add(ear);
    return () => ears.delete(ear);
  },
  report: () => undefined,
};

let served: Served;
beforeAll(async () => {
  served = await serve(behind, 0);
});
afterAll(() => served.stop());

const post = (path: string, body: string, headers: Record<string, string> = {}) =>
  fetch(`${served.url}${path}`, {
    method: 'POST',
    body,
    headers: { 'content-type': 'application/json', ...headers },
  });

/** `fetch` does not let the Host header be set. */
const statusFor = (host: string): Promise<number | undefined> =>
  new Promise((resolve, reject) => {
    const asked = request(`${served.url}/api/now`, { headers: { host } }, (answer) => {
      answer.resume();
      resolve(answer.statusCode);
    });
    asked.once('error', reject);
    asked.end();
  });

test('it listens on the loopback address, and answers to no other name', async () => {
  expect(new URL(served.url).hostname).toBe('127.0.0.1');
  expect(await statusFor('rebound.example')).toBe(403);
  expect(await statusFor(`localhost:${new URL(served.url).port}`)).toBe(200);
});

test('a page of another origin cannot make it act', async () => {
  const body = '{"stimuli":[{"interlock":"E1.stop","method":"real"}]}';
  expect((await post('/api/windows', body, { origin: 'http://elsewhere.example' })).status).toBe(403);
  expect((await post('/api/windows', body, { 'content-type': 'text/plain' })).status).toBe(415);
  expect(opened).toEqual([]);
  const good = await post('/api/windows', body, { origin: served.url });
  expect([good.status, await good.json()]).toEqual([201, { window: 'w1' }]);
  expect(opened).toMatchObject([{ stimuli: [{ interlock: 0, method: 'real' }], people: [], note: '' }]);
});

test('what is refused says what was wrong', async () => {
  const wrong = await post('/api/windows', '{"stimuli":[{"interlock":"E1.stop","method":"luck"}]}');
  expect(wrong.status).toBe(400);
  expect(((await wrong.json()) as { message: string }).message).toContain('stimuli.0.method');
  const unknown = await post('/api/windows', '{"stimuli":[{"interlock":"E1.stp","method":"real"}]}');
  expect([unknown.status, ((await unknown.json()) as { message: string }).message]).toEqual([
    409,
    'there is no interlock "E1.stp"; there are: E1.stop',
  ]);
  expect((await post('/api/windows/w1/close', '{}')).status).toBe(409);
  expect((await fetch(`${served.url}/api/windows/w9`)).status).toBe(404);
});

test('the page brings nothing from elsewhere and allows nothing inline', async () => {
  const page = await fetch(served.url);
  expect(page.headers.get('content-security-policy')).toMatch(/default-src 'none'.*frame-ancestors 'none'/);
  const html = await page.text();
  expect(html).not.toMatch(/https?:\/\//);
  expect(html).not.toMatch(/ style=| on[a-z]+=|<script>/);
  const script = await (await fetch(`${served.url}/page.client.js`)).text();
  expect(script).not.toMatch(/innerHTML|https?:\/\//);
});

test('the stream tells the present state at once, and a listener that leaves is forgotten', async () => {
  const leave = new AbortController();
  const stream = await fetch(`${served.url}/api/stream`, { signal: leave.signal });
  const reader = stream.body?.getReader();
  const first = await reader?.read();
  expect(new TextDecoder().decode(first?.value)).toContain(`event: now\ndata: ${JSON.stringify(NOW)}`);
  expect(ears.size).toBe(1);
  leave.abort();
  while (ears.size > 0) await new Promise((resolve) => setImmediate(resolve));
});
