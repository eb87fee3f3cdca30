/** From opening to stopping: connections given back, focus, restarts, half-open peers, and nothing left behind. */
import { spawn } from 'node:child_process';
import { connect } from 'node:net';
import { createInterface } from 'node:readline';
import { afterEach, expect, test } from 'vitest';
import type { SignalId } from '../../../src/measure/index.ts';
import type { Answer } from '../../../src/signal/index.ts';
import {
  type Device,
  device,
  newest,
  nothings,
  right,
  signalAt,
  sourceOn,
  tcp,
  type Watched,
  watch,
  watchAll,
  words,
} from './rig.ts';

const SIGNALS = [signalAt(0, 'holding', 100), signalAt(1, 'holding', 300)];
let open: Watched | undefined;
let peer: Device | undefined;
afterEach(async () => {
  await open?.stop();
  await peer?.stop();
});

const allRight = (answers: readonly Answer[]): boolean =>
  words(answers).every((one) => one.words[0] === (one.request === 0 ? 100 : 300));
const exception = (request: Buffer, code: number): Buffer =>
  Buffer.concat([request.subarray(0, 4), Buffer.from([0, 3, request[6]!, 0x83, code])]);

test('a connection is given back between slots, and that is no loss', { timeout: 15_000 }, async () => {
  peer = await device();
  open = watch(peer.port, SIGNALS, { poll: 200_000, releaseAfter: 50_000, timeout: 2_000_000 });
  await open.until((answers) => words(answers).length >= 8);
  expect(peer.connections().all).toBeGreaterThanOrEqual(3);
  expect(nothings(open.answers)).toEqual([]);
  expect(open.events).toEqual([]);
  expect(open.source.stats()).toMatchObject({ reconnects: 0, connected: true });
});

test('a connection that is due again soon is kept', { timeout: 15_000 }, async () => {
  peer = await device();
  open = watch(peer.port, SIGNALS, { poll: 40_000, releaseAfter: 1_000_000, timeout: 2_000_000 });
  await open.until((answers) => words(answers).length >= 12);
  expect(peer.connections().all).toBe(1);
});

test('what a window needs is asked at its pace, the rest at its own; then all as before', {
  timeout: 15_000,
}, async () => {
  peer = await device();
  open = watch(peer.port, SIGNALS, { poll: 200_000, windowPoll: 10_000, timeout: 2_000_000 });
  const count = (request: number, since = 0): number =>
    words(open!.answers.slice(since)).filter((one) => one.request === request).length;
  await open.until(() => count(0) >= 2 && count(1) >= 2);
  expect(open.source.stats().rates.map((one) => one.pace)).toEqual(['watch']);
  open.source.focus([1 as SignalId]);
  const from = open.answers.length;
  await open.until(() => count(1, from) >= 40);
  expect(count(0, from)).toBeLessThan(count(1, from) / 2);
  const rates = open.source.stats().rates;
  expect(rates.map((one) => [one.pace, one.wanted])).toEqual([
    ['window', 10_000],
    ['watch', 200_000],
  ]);
  expect(rates[0]!.achieved).toBeLessThan(rates[1]!.achieved!);
  open.source.focus(undefined);
  const after = open.answers.length;
  await open.until(() => count(0, after) >= 4);
  expect(count(1, after)).toBeLessThanOrEqual(8);
  expect(open.source.stats().rates.map((one) => one.pace)).toEqual(['watch']);
});

test('what nobody waits for is asked seldom', { timeout: 15_000 }, async () => {
  peer = await device();
  const source = sourceOn(tcp(peer.port), { poll: 10_000, slowPoll: 200_000, timeout: 2_000_000 });
  open = watchAll([source], SIGNALS, (request) => (request.at === 300 ? 'slow' : 'watch'));
  await open.until((answers) => words(answers).filter((one) => one.request === 1).length >= 3);
  const fast = words(open.answers).filter((one) => one.request === 0).length;
  expect(fast).toBeGreaterThan(6);
  expect(allRight(open.answers)).toBe(true);
});

test('a device that restarts: absence while it is away, then back by itself', {
  timeout: 15_000,
}, async () => {
  peer = await device();
  const { port } = peer;
  open = watch(port, SIGNALS);
  await open.until((answers) => words(answers).length >= 6);
  await peer.stop();
  const gone = open.answers.length;
  await open.until((answers) => nothings(answers.slice(gone)).length >= 6);
  peer = await device(right, 12, port);
  const there = open.answers.length;
  await open.until(
    (answers) => words(answers.slice(there)).length >= 4 && open!.events.at(-1)?.kind === 'back',
  );
  expect(open.events.map((one) => one.kind)).toEqual(['lost', 'back']);
  expect(open.events.at(-1)!.missed).toBeGreaterThanOrEqual(6);
  expect(allRight(open.answers)).toBe(true);
});

test('a half-open connection is given up, and a new one found', { timeout: 15_000 }, async () => {
  const dead = new Set<unknown>();
  let cut = false;
  peer = await device((request, socket) => {
    if (cut) dead.add(socket);
    cut = false;
    return dead.has(socket) ? undefined : right(request);
  });
  open = watch(peer.port, SIGNALS);
  await open.until((answers) => words(answers).length >= 6);
  cut = true;
  await open.until((_answers, events) => events.at(-1)?.kind === 'back');
  expect(open.events[0]).toMatchObject({ kind: 'lost', code: 'silent', params: { next: 'check-unit' } });
  expect(allRight(open.answers)).toBe(true);
});

test('an answer that drips in slower than the time-out is none', { timeout: 15_000 }, async () => {
  const drips = new Set<NodeJS.Timeout>();
  let slow = true;
  peer = await device((request, socket) => {
    if (!slow) return right(request);
    const bytes = [...right(request)];
    const drip = setInterval(() => {
      const byte = bytes.shift();
      if (byte === undefined || socket.destroyed) clearInterval(drip);
      else socket.write(Buffer.from([byte]));
    }, 25);
    drips.add(drip);
    return undefined;
  });
  open = watch(peer.port, SIGNALS);
  await open.until((answers) => nothings(answers).some((one) => one.why === 'timed-out'));
  expect(words(open.answers)).toEqual([]);
  slow = false;
  await open.until((answers) => words(answers).length >= 4);
  for (const drip of drips) clearInterval(drip);
  expect(allRight(open.answers)).toBe(true);
});

test('an answer that lay ready while this program itself stood still is no time-out', {
  timeout: 15_000,
}, async () => {
  let stalls = 0;
  peer = await device((request, socket) => {
    socket.write(right(request));
    if (stalls < 3) {
      stalls += 1;
      const until = process.hrtime.bigint() + 200_000_000n;
      while (process.hrtime.bigint() < until);
    }
    return undefined;
  });
  open = watch(peer.port, SIGNALS);
  await open.until((answers) => words(answers).length >= 8);
  expect(stalls).toBe(3);
  expect(nothings(open.answers)).toEqual([]);
});

test('a reset while nothing is asked is seen too', { timeout: 15_000 }, async () => {
  peer = await device();
  open = watch(peer.port, SIGNALS, { poll: 100_000 });
  await open.until((answers) => words(answers).length >= 4);
  peer.drop();
  await open.until((_answers, events) => events.at(-1)?.kind === 'back');
  expect(open.events.map((one) => one.kind)).toEqual(['lost', 'back']);
});

// Some devices refuse blocks above their own limit with exception 2 or 3, or are silent: common practice, no source.
test.each([2, 3, undefined])(
  'a block too large for the device (%s) is read in halves, at instants of their own',
  {
    timeout: 15_000,
  },
  async (code) => {
    peer = await device((request) => {
      if (request.readUInt16BE(10) <= 4) return right(request);
      return code === undefined ? undefined : exception(request, code);
    });
    const block = Array.from({ length: 12 }, (_, index) => signalAt(index, 'holding', index));
    open = watch(peer.port, [...block, signalAt(12, 'holding', 500)]);
    const whole = block.map((_, index) => index);
    await open.until((answers) => newest(answers).length === 12);
    expect(newest(open.answers)).toEqual(whole);
    const parts = words(open.answers).filter((one) => one.request === 0);
    expect(parts.every((one) => one.words.filter((word) => word >= 0).length <= 4)).toBe(true);
    expect(parts.some((one) => one.words.includes(-1))).toBe(false);
  },
);

test('every address of a block refused but two: each is named once, the two go on', {
  timeout: 15_000,
}, async () => {
  const there = new Set([2, 5]);
  peer = await device((request) => {
    const from = request.readUInt16BE(8);
    for (let at = from; at < from + request.readUInt16BE(10); at += 1)
      if (!there.has(at)) return exception(request, 2);
    return right(request);
  });
  open = watch(
    peer.port,
    Array.from({ length: 8 }, (_, index) => signalAt(index, 'holding', index)),
    { poll: 10_000, inFlight: 3 },
  );
  await open.until(
    (answers) => newest(answers).filter((word) => word >= 0).length === 2 && newest(answers).length === 8,
  );
  await open.until((_answers, events) => events.filter((one) => one.kind === 'refused').length >= 6);
  expect(newest(open.answers)).toEqual([-1, -1, 2, -1, -1, 5, -1, -1]);
  const named = open.events.flatMap((one) => (one.kind === 'refused' ? [one.params['address']] : []));
  expect(named.sort()).toEqual([0, 1, 3, 4, 6, 7]);
});

const handles = (): string[] =>
  process.getActiveResourcesInfo().filter((name) => /TCPSocket|Connect|GetAddrInfo/.test(name));

test('stopping leaves no connection: before it is made, while a question is out, while nobody answers', {
  timeout: 15_000,
}, async () => {
  peer = await device();
  const before = handles().length;
  for (let index = 0; index < 20; index += 1) {
    const now = watch(peer.port, SIGNALS);
    if (index % 2 === 1) await now.until((answers) => words(answers).length > 0);
    await Promise.all([now.stop(), now.stop()]);
    const said = now.answers.length;
    await new Promise<void>((resolve) => setImmediate(resolve));
    expect(now.answers.length).toBe(said);
  }
  peer.behave(() => undefined);
  const mute = watch(peer.port, SIGNALS);
  await mute.until((answers) => nothings(answers).length > 0);
  await mute.stop();
  await peer.quiet();
  await peer.stop();
  expect(handles().length).toBeLessThanOrEqual(before);
});

/** A listener that accepts nobody: once its queue is full, a connection is neither made nor refused. */
const LISTENER = `
import socket, sys
s = socket.socket()
s.bind(('127.0.0.1', 0))
s.listen(0)
print(s.getsockname()[1], flush=True)
sys.stdin.read()
`;

test('stopping ends a connection that is still being made, however long it might take', {
  timeout: 15_000,
}, async () => {
  const child = spawn('/usr/bin/python3', ['-c', LISTENER]);
  const port = await new Promise<number>((resolve) =>
    createInterface({ input: child.stdout }).once('line', (line) => resolve(Number(line))),
  );
  const fillers = [connect(port, '127.0.0.1'), connect(port, '127.0.0.1'), connect(port, '127.0.0.1')];
  for (const filler of fillers) filler.on('error', () => undefined);
  await new Promise((resolve) => fillers[0]!.once('connect', resolve));
  const before = handles().length;
  open = watch(port, SIGNALS, { timeout: 600_000_000 });
  const now = open;
  while (handles().length <= before) await new Promise<void>((resolve) => setImmediate(resolve));
  await now.stop();
  expect(words(now.answers)).toEqual([]);
  for (const filler of fillers) filler.destroy();
  child.kill();
});
