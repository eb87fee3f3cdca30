/** The server in front of a daemon that is only pretended: who may ask, and what is refused how. */
import { type IncomingMessage, request } from 'node:http';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { createClient, Declined, type Entering, type Now, Refused } from '../../../src/api/index.ts';
import type { Mark } from '../../../src/judge/index.ts';
import { type Instant, instant } from '../../../src/measure/index.ts';
import type { Book } from '../../../src/rulebook/index.ts';
import { type Behind, type Served, serve } from '../../../src/web/index.ts';

const NOW: Now = {
  site: 's',
  title: 't',
  utc: '',
  sources: [],
  signals: [],
  interlocks: [],
  contradictions: [],
  demands: [],
};
const direct = { kind: 'constant' };
const between = { kind: 'derived', from: { as: 'difference', of: [1, 1] } };
const book = {
  interlocks: [
    { id: 0, name: 'E1.stop', cause: { kind: 'contact', signal: 0 } },
    { id: 1, name: 'E1.slow', cause: { kind: 'level', signal: 0 } },
    { id: 2, name: 'E1.hot', cause: { kind: 'level', signal: 1 } },
    { id: 3, name: 'E1.rise', cause: { kind: 'level', signal: 2 } },
  ],
  machines: [{ index: 0, name: 'E1' }],
  signals: [
    { name: 'E1.speed', quantity: 'rotational-speed', unit: 'rpm', address: direct },
    { name: 'E1.bearing', quantity: 'temperature', unit: 'degC', address: direct },
    { name: 'E1.over-ambient', quantity: 'temperature', unit: 'degC', address: between },
  ],
};
const ears = new Set<unknown>();
const opened: unknown[] = [];
const marked: ((at: Instant) => Mark)[] = [];
const taken: Entering[] = [];
const DECLINED = new Declined({ code: 'password-wrong', params: {} }, 'Id or password is not right.');
const behind: Behind = {
  book: book as unknown as Book,
  desk: {
    async enter(asked) {
      taken.push(asked);
      if (asked.do === 'sign') throw DECLINED;
      return { entry: 7, kind: 'register', subject: 'E1', actor: 'Ada', body: { id: 'punch-1' } };
    },
    log: async () => ({ log: 'l-1', site: 's' }),
    people: async () => [{ id: 'ada', name: 'Ada Post', roles: ['tester'], standing: 'open' }],
    register: async () => [],
    signing: async (window) =>
      window === 'w1' ? { signatures: [], demanded: [], missing: [], notIndependent: [] } : undefined,
  },
  tool: '1.0',
  sessions: {
    signIn: async () => '',
    account: () => undefined,
    signOut: async () => undefined,
    onEnd: () => () => undefined,
  },
  bookNow: () => ({ site: 's', title: 't', hash: '', machines: [], interlocks: [], signals: [] }),
  live: {
    follow: () => {
      throw new Declined({ code: 'no-signal', params: { signals: ['nope'] } }, '');
    },
  },
  now: () => NOW,
  async open(asked) {
    opened.push(asked);
    const shown = {
      window: 'w1',
      standing: 'open',
      opened: '',
      demand: false,
      findings: [],
      advice: [],
    } as const;
    return { id: 'w1', show: () => shown };
  },
  plan: (interlocks) => [{ interlock: interlocks.join(), advice: [], undecidable: [], notes: [] }],
  plans: () => [],
  guide: () => undefined,
  step: async () => {
    throw new Declined({ code: 'guide-not-open', params: { window: 'w1' } }, '');
  },
  follow: () => () => undefined,
  window: () => undefined,
  async mark(_id, mark) {
    marked.push(mark);
    return 1;
  },
  close: async () => {
    throw new Declined({ code: 'guide-not-open', params: { window: 'w1' } }, '');
  },
  listen(ear) {
    ears.add(ear);
    return () => ears.delete(ear);
  },
  review: async () => undefined,
};

let served: Served;
beforeAll(async () => {
  served = await serve(behind, { port: 0, access: 'open' });
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
  const plan = [{ interlock: '0', advice: [], undecidable: [], notes: [] }];
  expect([good.status, await good.json()]).toEqual([201, { window: 'w1', plan }]);
  expect(opened).toMatchObject([{ stimuli: [{ interlock: 0, method: 'real' }], people: [], note: '' }]);
});

test('what is refused says what was wrong', async () => {
  const wrong = await post('/api/windows', '{"stimuli":[{"interlock":"E1.stop","method":"luck"}]}');
  expect(wrong.status).toBe(400);
  expect(((await wrong.json()) as { message: string }).message).toContain('stimuli.0.method');
  const unknown = await post('/api/windows', '{"stimuli":[{"interlock":"E1.stp","method":"real"}]}');
  expect([unknown.status, ((await unknown.json()) as { message: string }).message]).toEqual([
    409,
    'There is no interlock "E1.stp". There are: E1.stop, E1.slow, E1.hot, E1.rise.',
  ]);
  expect((await post('/api/windows/w1/close', '{}')).status).toBe(409);
  expect((await fetch(`${served.url}/api/windows/w9`)).status).toBe(404);
});

const observed = async (interlock: string, value: string, doubt: string) => {
  const body = { code: 'observed', by: 'one', interlock, value, doubt, instrument: 'hand tachometer' };
  const answer = await post('/api/windows/w1/marks', JSON.stringify(body));
  return { status: answer.status, ...((await answer.json()) as { message?: string; entry?: number }) };
};
const lastMark = (): Mark | undefined => marked.at(-1)?.(instant(5));

test('what an instrument showed is taken in the unit of the signal, with its doubt to each side', async () => {
  expect(await observed('E1.slow', '78.9 rpm', '0.2 rpm')).toMatchObject({ status: 200, entry: 1 });
  expect(lastMark()).toMatchObject({
    code: 'observed',
    by: 'one',
    interlock: 1,
    instrument: 'hand tachometer',
  });
  const speed = lastMark() as Mark & { code: 'observed' };
  expect(speed.value.low).toBeCloseTo(78.7, 9);
  expect(speed.value.high).toBeCloseTo(79.1, 9);
  // 1.5 rev/s are 90 rpm; 0.1 rev/s are 6 rpm.
  await observed('E1.slow', '1.5 rev/s', '0.1 rev/s');
  expect((lastMark() as Mark & { code: 'observed' }).value).toEqual({ low: 84, high: 96 });
  // 176 °F are 80 °C, but 1.8 °F of doubt are 1 °C (NIST SP 811, B.8).
  await observed('E1.hot', '176 degF', '1.8 degF');
  const hot = (lastMark() as Mark & { code: 'observed' }).value;
  expect([hot.low, hot.high]).toEqual([expect.closeTo(79, 9), expect.closeTo(81, 9)]);
  // A rise over ambient has no zero of a scale: 72 °F are 40 °C of it.
  await observed('E1.rise', '72 degF', '0 degF');
  const rise = (lastMark() as Mark & { code: 'observed' }).value;
  expect([rise.low, rise.high]).toEqual([expect.closeTo(40, 9), expect.closeTo(40, 9)]);
});

test('a unit that does not fit, a number without one, and a contact are refused in words', async () => {
  const before = marked.length;
  const wrong = await observed('E1.slow', '80 degC', '0.2 rpm');
  expect(wrong.status).toBe(400);
  expect(wrong.message).toBe(
    'E1.speed is in rpm, and "80 degC" is no value of it. Write a number with one of these units: rpm, rev/min, rev/s.',
  );
  expect((await observed('E1.slow', '78.9', '0.2 rpm')).message).toContain('"78.9"');
  expect((await observed('E1.slow', '78.9 rpm', '0.2')).message).toContain('"0.2"');
  expect((await observed('E1.stop', '1 rpm', '0 rpm')).message).toContain('acts on no measured level');
  expect((await observed('E1.stp', '1 rpm', '0 rpm')).message).toContain('There is no interlock "E1.stp"');
  expect(marked.length).toBe(before);
});

test('papers go to the desk as they were asked for, and come back as entries', async () => {
  const client = createClient(served.url, fetch);
  const asked = {
    do: 'register-step',
    who: { by: 'Ada' },
    id: 'punch-1',
    action: 'noted',
    text: 'part ordered',
  } as const;
  expect(await client.enter(asked)).toMatchObject({ entry: 7, body: { id: 'punch-1' } });
  expect(taken.at(-1)).toEqual(asked);
  expect(await client.log()).toEqual({ log: 'l-1', site: 's' });
  expect(await client.people()).toMatchObject([{ id: 'ada', standing: 'open' }]);
  expect(await client.register()).toEqual([]);
  expect(await client.signing('w1')).toMatchObject({ missing: [] });
  await expect(client.signing('w9')).rejects.toMatchObject({ code: 'no-window-in-log', status: 404 });
});

test('what the desk declines keeps its code; no answer repeats a password, however wrong the request was', async () => {
  const client = createClient(served.url, fetch);
  const password = 'correct horse battery';
  const who = { as: 'ada', password };
  const declined = await client
    .enter({ do: 'sign', who, window: 'w1', meaning: 'performed' })
    .catch((error) => error);
  expect(declined).toBeInstanceOf(Refused);
  expect(declined).toMatchObject({
    code: 'password-wrong',
    status: 409,
    message: 'Id or password is not right.',
  });
  const before = taken.length;
  const wrong = [
    JSON.stringify({ do: 'sign', who, window: 'w1', meaning: password }),
    JSON.stringify({
      do: 'sign',
      who: { as: 'ada', password: [password] },
      window: 'w1',
      meaning: 'performed',
    }),
    JSON.stringify({ do: 'sign', who: { ...who, [password]: 1 }, window: 'w1', meaning: 'performed' }),
    JSON.stringify({ do: password, who }),
    `{"do":"sign","who":{"as":"ada","password":"${password}"},`,
    `"${password}"`,
    `{"password":"${password}`,
  ];
  for (const body of wrong) {
    const answer = await post('/api/entries', body);
    expect(answer.status).toBe(400);
    expect(await answer.text()).not.toContain('horse');
  }
  expect(taken.length).toBe(before);
});

test('the page brings nothing from elsewhere and allows nothing inline', async () => {
  const page = await fetch(served.url);
  expect(page.headers.get('content-security-policy')).toMatch(/default-src 'none'.*frame-ancestors 'none'/);
  const html = await page.text();
  expect(html).not.toMatch(/https?:\/\//);
  expect(html).not.toMatch(/ style=| on[a-z]+=|<script>/);
  const parts = [...html.matchAll(/(?:src|href)="\.\/([^"]+)"/g)].map(([, part]) => part ?? '');
  expect(parts.some((part) => part.endsWith('.js'))).toBe(true);
  for (const part of parts) {
    const answer = await fetch(`${served.url}/${part}`);
    expect(answer.status, part).toBe(200);
    expect(answer.headers.get('cache-control')).toContain('immutable');
    // Names of namespaces are no places.
    expect((await answer.text()).replaceAll(/http:\/\/www\.w3\.org\/[\w/]+/g, '')).not.toMatch(
      /https?:\/\/\w/,
    );
  }
});

test('a large answer goes out compressed; what tells of a session never does', async () => {
  const asked = (path: string) =>
    new Promise<IncomingMessage>((resolve, reject) => {
      request(`${served.url}${path}`, { headers: { 'accept-encoding': 'gzip, br' } }, (answer) => {
        answer.resume();
        resolve(answer);
      })
        .on('error', reject)
        .end();
    });
  expect((await asked('/api/openapi.json')).headers).toMatchObject({ 'content-encoding': 'gzip' });
  expect((await asked('/api/session')).headers).not.toHaveProperty('content-encoding');
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

test('what goes on is asked for once for all who listen', async () => {
  let asked = 0;
  const now = (): typeof NOW => {
    asked += 1;
    return { ...NOW, title: `answer ${asked}.` };
  };
  const counted = await serve({ ...behind, now }, { port: 0, access: 'open' });
  const leave = new AbortController();
  const listens = async () => {
    const stream = await fetch(`${counted.url}/api/stream`, { signal: leave.signal });
    const reader = stream.body?.pipeThrough(new TextDecoderStream()).getReader();
    let text = '';
    /** Reads on until `enough` is pleased with the numbers of the answers so far. */
    return async (enough: (numbers: readonly number[]) => boolean): Promise<readonly number[]> => {
      for (;;) {
        const numbers = [...text.matchAll(/answer (\d+)\./g)].map(([, number]) => Number(number));
        if (enough(numbers)) return numbers;
        text += (await reader?.read())?.value ?? '';
      }
    };
  };
  const [one, other] = [await listens(), await listens()];
  const [first = 0, next = 0] = await other((numbers) => numbers.length > 1);
  const also = await one((numbers) => (numbers.at(-1) ?? 0) >= next);
  leave.abort();
  await counted.stop();
  expect(also).not.toContain(first);
  expect(also).toContain(next);
});
