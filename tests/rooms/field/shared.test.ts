/** Several units behind one place. */
import { afterEach, expect, test } from 'vitest';
import { afterException, afterSilence } from '../../../src/field/modbus/patience.ts';
import type { Answer, ModbusSource } from '../../../src/signal/index.ts';
import {
  type Behaviour,
  type Device,
  device,
  nothings,
  right,
  signalAt,
  sourceOn,
  tcp,
  type Watched,
  watchAll,
  words,
} from './rig.ts';

let open: Watched | undefined;
let peer: Device | undefined;
afterEach(async () => {
  await open?.stop();
  await peer?.stop();
});

/** Unit n shows 1000 × n + address. */
const gateway: Behaviour = (request) => {
  const answer = right(request);
  for (let at = 9; at < answer.length; at += 2)
    answer.writeUInt16BE(answer.readUInt16BE(at) + 1_000 * request[6]!, at);
  return answer;
};
const SIGNALS = [signalAt(0, 'holding', 10, 0), signalAt(1, 'holding', 40, 0), signalAt(2, 'holding', 10, 1)];
const two = (port: number, more: Partial<ModbusSource> = {}): Watched =>
  watchAll([sourceOn(tcp(port), more), sourceOn(tcp(port), { ...more, unit: 2 })], SIGNALS);
const of = (source: number) => (one: Answer) => one.source === source;
const VALUES = [1_010, 1_040, 2_010];
const allRight = (watched: Watched): boolean =>
  words(watched.answers).every((one) => one.words[0] === VALUES[one.request]);

test.each([1, 4])('they share one connection, %i on their way', { timeout: 10_000 }, async (inFlight) => {
  peer = await device(gateway);
  open = two(peer.port, { inFlight, timeout: 2_000_000 });
  await open.until((answers) => words(answers).filter(of(1)).length >= 10);
  expect(peer.connections().all).toBe(1);
  expect(allRight(open)).toBe(true);
  expect(new Set(words(open.answers).map((one) => one.request)).size).toBe(3);
});

test('unless one asks for its own', { timeout: 10_000 }, async () => {
  peer = await device(gateway);
  open = two(peer.port, { connection: 'own', timeout: 2_000_000 });
  await open.until((answers) => words(answers).filter(of(0)).length >= 4 && answers.some(of(1)));
  expect(peer.connections().all).toBe(2);
  expect(allRight(open)).toBe(true);
});

test.each([1, 4])(
  'a silent unit is asked ever more seldom, its absence told at every slot; the other goes on (%i on their way)',
  { timeout: 20_000 },
  async (inFlight) => {
    let tries = 0;
    let silent = true;
    peer = await device((request, socket) => {
      if (request[6] !== 2 || !silent) return gateway(request, socket);
      tries += 1;
      return undefined;
    });
    open = two(peer.port, { inFlight });
    await open.until((answers) => words(answers).filter(of(0)).length >= 100);
    expect(nothings(open.answers).filter(of(0))).toEqual([]);
    const told = nothings(open.answers).filter(of(1));
    expect(told.length).toBeGreaterThan(4 * tries);
    expect(told.every((one) => one.why === 'timed-out')).toBe(true);
    expect(open.events.map((one) => [one.source, one.kind])).toEqual([[1, 'lost']]);
    expect(open.events[0]?.params).toMatchObject({ unit: 2, function: 3, address: 10, next: 'check-unit' });
    silent = false;
    await open.until((answers) => words(answers).some(of(1)));
    expect(open.events.at(-1)).toMatchObject({ source: 1, kind: 'back' });
    expect(allRight(open)).toBe(true);
  },
);

test('what is on its way behind a silent unit is asked again on the next connection', {
  timeout: 10_000,
}, async () => {
  const stuck = new Set<unknown>();
  let silent = false;
  let lost = 0;
  // A gateway that asks its units one after the other: behind the silent one nothing is answered.
  peer = await device((request, socket) => {
    if (silent && request[6] === 2) stuck.add(socket);
    if (!stuck.has(socket)) return gateway(request, socket);
    if (request[6] === 1) lost += 1;
    return undefined;
  });
  open = two(peer.port, { inFlight: 4 });
  await open.until((answers) => words(answers).some(of(1)) && words(answers).some(of(0)));
  silent = true;
  await open.until((_answers, events) => events.length > 0);
  const from = open.answers.length;
  await open.until((answers) => words(answers.slice(from)).filter(of(0)).length >= 4);
  expect(lost).toBeGreaterThan(0);
  expect(nothings(open.answers).filter(of(0))).toEqual([]);
  expect(allRight(open)).toBe(true);
});

test('patience with a unit that costs the others time: one more try, a fifth of it, then ever less; alone on its line none is needed', () => {
  const trouble = { poll: 100_000, took: 1_000_000, shared: true };
  const waits = [1, 2, 3, 4, 40].map((failures) => afterSilence({ ...trouble, failures }) / 1_000_000);
  expect(waits).toEqual([0, 4, 8, 16, 30]);
  expect(afterSilence({ ...trouble, failures: 9, shared: false })).toBe(0);
  expect(afterException({ ...trouble, failures: 1 })).toBeLessThan(
    afterException({ ...trouble, failures: 2 }),
  );
  expect(afterException({ ...trouble, failures: 99 })).toBe(30_000_000);
  expect(afterException({ ...trouble, failures: 99, shared: false })).toBe(150_000);
});

// Exceptions 10 and 11 of a gateway (Application Protocol V1.1b3, 7): no path, no answer from the target.
test.each([10, 11, 6])(
  'a unit that gives exception %i is asked more seldom too',
  { timeout: 10_000 },
  async (code) => {
    let tries = 0;
    peer = await device((request, socket) => {
      if (request[6] !== 2) return gateway(request, socket);
      tries += 1;
      return Buffer.concat([request.subarray(0, 4), Buffer.from([0, 3, 2, 0x83, code])]);
    });
    open = two(peer.port, { timeout: 2_000_000 });
    await open.until((answers) => answers.filter(of(1)).length >= 30);
    const told = nothings(open.answers).filter(of(1));
    expect(told.every((one) => one.why === 'refused' && one.code === code)).toBe(true);
    expect(tries).toBeLessThan(10);
    expect(open.events.filter((one) => one.kind === 'refused')).toHaveLength(1);
    expect(open.events[0]?.params).toMatchObject({ exception: code, unit: 2 });
    expect(nothings(open.answers).filter(of(0))).toEqual([]);
  },
);

test('one unit leaves, the other goes on; with the last the connection goes', {
  timeout: 10_000,
}, async () => {
  peer = await device(gateway);
  open = two(peer.port, { timeout: 2_000_000 });
  await open.until((answers) => words(answers).some(of(1)) && words(answers).some(of(0)));
  await open.sources[1]!.stop();
  const before = open.answers.length;
  await open.until((answers) => answers.length >= before + 6);
  expect(open.answers.slice(before).every(of(0))).toBe(true);
  expect(peer.connections()).toEqual({ open: 1, all: 1 });
  await open.sources[0]!.stop();
  const after = open.answers.length;
  await new Promise<void>((resolve) => setImmediate(resolve));
  expect(open.answers.length).toBe(after);
});
