/** Several questions on their way at once: who may answer what, and what a time-out does to the others. */
import { afterEach, expect, test } from 'vitest';
import { type Device, device, nothings, right, signalAt, type Watched, watch, words } from './rig.ts';

const AT = [0, 200, 400, 600, 800, 1_000];
const SIGNALS = AT.map((at, index) => signalAt(index, 'holding', at));
let open: Watched | undefined;
let peer: Device | undefined;
afterEach(async () => {
  await open?.stop();
  await peer?.stop();
});

const allRight = (watched: Watched): boolean =>
  words(watched.answers).every((one) => one.words.length === 1 && one.words[0] === AT[one.request]);

test('four on their way, answered backwards: each answer finds its question', {
  timeout: 10_000,
}, async () => {
  const held: Buffer[] = [];
  let most = 0;
  peer = await device((request, socket) => {
    held.push(right(request));
    most = Math.max(most, held.length);
    // Six requests a slot: four leave together, the last two when there is room again.
    if (held.length === 4 || (held.length === 2 && request.readUInt16BE(8) === 1_000))
      for (const answer of held.splice(0).reverse()) socket.write(answer);
    return undefined;
  });
  open = watch(peer.port, SIGNALS, { inFlight: 4, timeout: 2_000_000 });
  await open.until((answers) => words(answers).length >= 60);
  expect(most).toBe(4);
  expect(allRight(open)).toBe(true);
  expect(nothings(open.answers)).toEqual([]);
  expect(new Set(words(open.answers).map((one) => one.request)).size).toBe(6);
});

test.each([1, 3])(
  'never more than %i on their way, and no number twice',
  { timeout: 10_000 },
  async (limit) => {
    const outstanding: number[] = [];
    let most = 0;
    const used = new Set<number>();
    let asked = 0;
    peer = await device((request, socket) => {
      asked += 1;
      used.add(request.readUInt16BE(0));
      outstanding.push(1);
      most = Math.max(most, outstanding.length);
      setImmediate(() => {
        outstanding.pop();
        if (!socket.destroyed) socket.write(right(request));
      });
      return undefined;
    });
    open = watch(peer.port, SIGNALS, { inFlight: limit, timeout: 2_000_000 });
    await open.until((answers) => words(answers).length >= 120);
    expect(most).toBeLessThanOrEqual(limit);
    expect(used.size).toBe(asked);
    expect(allRight(open)).toBe(true);
  },
);

test('one that is never answered ends the connection: the others are told, and a late answer finds nobody', {
  timeout: 10_000,
}, async () => {
  const late: (() => void)[] = [];
  let silent = false;
  peer = await device((request, socket) => {
    if (!silent || request.readUInt16BE(8) !== 400) return right(request);
    late.push(() => !socket.destroyed && socket.write(right(request)));
    return undefined;
  });
  open = watch(peer.port, SIGNALS, { inFlight: 4 });
  await open.until((answers) => words(answers).length >= 12);
  silent = true;
  await open.until((answers) =>
    nothings(answers).some((one) => one.why === 'timed-out' && one.request === 2),
  );
  const { all } = peer.connections();
  silent = false;
  for (const send of late) send();
  const before = words(open.answers).length;
  await open.until((answers) => words(answers).length >= before + 24);
  expect(peer.connections().all).toBeGreaterThan(all);
  expect(allRight(open)).toBe(true);
  expect(open.events.map((one) => one.kind).slice(0, 2)).toEqual(['lost', 'back']);
});

test('an answer that comes twice ends the connection', { timeout: 10_000 }, async () => {
  peer = await device((request) => Buffer.concat([right(request), right(request)]));
  open = watch(peer.port, SIGNALS, { inFlight: 4 });
  await open.until((_answers, events) => events.some((one) => one.kind === 'lost'));
  expect(open.events[0]).toMatchObject({ kind: 'lost', code: 'wrong-transaction' });
  expect(allRight(open)).toBe(true);
});

test('a rest between an answer and the next question', { timeout: 10_000 }, async () => {
  let answered = 0n;
  const rests: number[] = [];
  peer = await device((request) => {
    const now = process.hrtime.bigint();
    if (answered > 0n) rests.push(Number(now - answered) / 1e6);
    answered = process.hrtime.bigint();
    return right(request);
  });
  open = watch(peer.port, SIGNALS, { pause: 15_000, poll: 200_000, timeout: 2_000_000 });
  await open.until((answers) => words(answers).length >= 12);
  // A lower bound only: a timer of this machine comes up to 1.3 ms early, never earlier.
  expect(Math.min(...rests)).toBeGreaterThan(13);
});
