/** The live trace over real sockets: whoever does not read gets nothing piled up, and is told what was left out. */
import type { ServerResponse } from 'node:http';
import { connect, type Socket } from 'node:net';
import Fastify, { type FastifyInstance } from 'fastify';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { Declined } from '../../../src/api/index.ts';
import { answering } from '../../../src/web/answering.ts';
import { onError } from '../../../src/web/refusal.ts';
import { type LiveBehind, liveRoutes } from '../../../src/web/routes-live.ts';

type Write = (event: Buffer) => void;

let server: FastifyInstance;
let port = 0;
let answer: ServerResponse | undefined;
let begun = 0;
let stopped: () => void = () => undefined;
let following: (write: Write) => void = () => undefined;
const asked: unknown[] = [];

const behind: LiveBehind = {
  bookNow: () => ({ site: 's', title: '', hash: '', machines: [], interlocks: [], signals: [] }),
  live: {
    follow(question, write) {
      asked.push(question);
      if (question.signals.includes('nope'))
        throw new Declined({ code: 'no-signal', params: { signals: ['nope'] } }, '');
      following(write);
      return {
        begin(span) {
          begun += 1;
          return `event: begin\ndata: {"span":${span},"number":${begun}}\n\n`;
        },
        stop: () => stopped(),
      };
    },
  },
};

beforeEach(async () => {
  begun = 0;
  asked.length = 0;
  server = Fastify({ forceCloseConnections: true });
  server.setErrorHandler(onError);
  server.addHook('onRequest', async (_request, { raw }) => {
    answer = raw;
  });
  liveRoutes(answering(server), behind);
  port = Number(new URL(await server.listen({ host: '127.0.0.1', port: 0 })).port);
});
afterEach(() => server.close());

/** A client that reads only when it is told to. */
const client = (): { socket: Socket; followed: Promise<Write>; gone: Promise<void> } => {
  const followed = new Promise<Write>((resolve) => {
    following = resolve;
  });
  const gone = new Promise<void>((resolve) => {
    stopped = resolve;
  });
  const socket = connect(port, '127.0.0.1');
  socket.on('error', () => undefined);
  socket.write('GET /api/live?signals=a,b&span=5 HTTP/1.1\r\nhost: 127.0.0.1\r\n\r\n');
  return { socket, followed, gone };
};

const EVENT = Buffer.from(`event: rows\ndata: "${'x'.repeat(50_000)}"\n\n`);
const turn = () => new Promise<void>((resolve) => setImmediate(resolve));

test('what cannot be asked is refused in words, and nothing is followed', async () => {
  const ask = (query: string) => fetch(`http://127.0.0.1:${port}/api/live${query}`);
  for (const query of ['', '?signals=', '?signals=a&span=x', '?signals=a&span=9999', '?signals=nope'])
    expect((await ask(query)).status).toBe(400);
  expect(await (await ask('?signals=nope')).json()).toEqual({
    code: 'no-signal',
    message: 'There is no signal nope.',
    params: { signals: ['nope'] },
  });
});

test('a client that never reads costs a bounded memory, and is let go', async () => {
  const { socket, followed, gone } = client();
  const write = await followed;
  let done = false;
  void gone.then(() => {
    done = true;
  });
  let sent = 0;
  const before = process.memoryUsage().external + process.memoryUsage().arrayBuffers;
  let most = 0;
  // 1 GB would be sent; the buffers of the machine take a few MB of it before anything waits here.
  while (!done && sent < 20_000) {
    write(Buffer.from(EVENT));
    sent += 1;
    await turn();
    const { external, arrayBuffers } = process.memoryUsage();
    most = Math.max(most, external + arrayBuffers - before);
  }
  await gone;
  expect(sent).toBeLessThan(2_000);
  expect(most).toBeLessThan(80_000_000);
  expect(begun).toBe(1);
  socket.destroy();
});

test('a client that reads too slowly is told how many events it missed, and begins anew', async () => {
  const { socket, followed } = client();
  const write = await followed;
  let text = '';
  // Until something waits here; what comes then is left out.
  const waits = (): number => answer?.writableLength ?? 0;
  while (waits() <= 256_000) {
    write(EVENT);
    await turn();
  }
  const waited = waits();
  for (let missed = 0; missed < 3; missed += 1) write(EVENT);
  expect(waits()).toBe(waited);
  socket.on('data', (data: Buffer) => {
    text += data.toString();
  });
  let small = 0;
  while (begun === 1) {
    write(Buffer.from('event: rows\ndata: "small"\n\n'));
    small += 1;
    await turn();
  }
  while (!text.includes('"number":2')) await turn();
  const skipped = /event: skipped\ndata: (.*)/.exec(text)?.[1] ?? '{}';
  expect((JSON.parse(skipped) as { rows: number }).rows).toBe(3 + small - 1);
  const last = text.indexOf('event: skipped');
  expect(text.indexOf('"number":2')).toBeGreaterThan(last);
  expect(text.slice(last).match(/event: \w+/)?.[0]).toBe('event: skipped');
  socket.destroy();
});
