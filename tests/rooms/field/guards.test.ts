/**
 * What goes wrong on a plant network: each was seen to make the client library return wrong values as good data, or
 * hang. Never a wrong value as good; absence with a reason; back by itself.
 */
import { afterEach, expect, test } from 'vitest';
import type { Answer } from '../../../src/signal/index.ts';
import {
  type Behaviour,
  type Device,
  device,
  newest,
  nothings,
  right,
  signalAt,
  type Watched,
  watch,
  words,
} from './rig.ts';

const SIGNALS = [signalAt(0, 'holding', 100), signalAt(1, 'holding', 101), signalAt(2, 'holding', 300)];
let open: Watched | undefined;
let peer: Device | undefined;
afterEach(async () => {
  await open?.source.stop();
  await peer?.stop();
});

/** Every answer that was delivered as good carries the addresses that were asked. */
const allRight = (answers: readonly Answer[]): boolean =>
  words(answers).every(
    (one) => JSON.stringify(one.words) === JSON.stringify(one.request === 0 ? [100, 101] : [300]),
  );

const altered =
  (change: (answer: Buffer) => Buffer): Behaviour =>
  (request) =>
    change(right(request));

const poke =
  (at: number, value: number) =>
  (answer: Buffer): Buffer => {
    answer[at] = value;
    return answer;
  };

const BEHAVIOURS: readonly (readonly [string, Behaviour])[] = [
  ['says nothing', () => undefined],
  ['answers with another transaction', altered(poke(1, 0xee))],
  ['answers with another protocol id', altered(poke(2, 0x12))],
  ['answers for another unit', altered(poke(6, 9))],
  ['answers with another function', altered(poke(7, 4))],
  ['counts fewer bytes than it sends', altered(poke(8, 0))],
  ['counts more bytes than it sends', altered(poke(8, 6))],
  ['sends a short frame', altered((answer) => answer.subarray(0, answer.length - 1))],
  ['says a length of 65 535', altered((answer) => poke(4, 0xff)(poke(5, 0xff)(answer)))],
  ['sends garbage', () => Buffer.from([1, 2, 3, 4, 5])],
  ['sends surplus bytes', altered((answer) => Buffer.concat([answer, Buffer.from([0, 7])]))],
  ['answers twice', altered((answer) => Buffer.concat([answer, answer]))],
  [
    'resets the connection',
    (_request, socket) => {
      socket.resetAndDestroy();
      return undefined;
    },
  ],
  [
    'closes the connection',
    (_request, socket) => {
      socket.end();
      return undefined;
    },
  ],
];

test.each(BEHAVIOURS)(
  'a device that %s: absence, then back, and never a wrong value',
  { timeout: 20_000 },
  async (_name, bad) => {
    peer = await device();
    open = watch(peer.port, SIGNALS);
    await open.until((answers) => words(answers).length >= 4);
    const quiet = nothings(open.answers).length;
    peer.behave(bad);
    await open.until(
      (answers, events) => nothings(answers).length >= quiet + 2 && events.some((one) => one.kind === 'lost'),
    );
    peer.behave(right);
    const before = words(open.answers).length;
    await open.until(
      (answers, events) => words(answers).length >= before + 4 && events.some((one) => one.kind === 'back'),
    );
    expect(allRight(open.answers)).toBe(true);
    expect(nothings(open.answers).every((one) => ['timed-out', 'interrupted'].includes(one.why))).toBe(true);
  },
);

test('a late answer is never taken for the next question', { timeout: 20_000 }, async () => {
  const kept: { frame: Buffer; send(frame: Buffer): void }[] = [];
  peer = await device();
  open = watch(peer.port, SIGNALS);
  await open.until((answers) => words(answers).length >= 4);
  peer.behave((request, socket) => {
    kept.push({ frame: right(request), send: (frame) => !socket.destroyed && socket.write(frame) });
    return undefined;
  });
  await open.until((answers) => nothings(answers).length >= 3);
  peer.behave((request) => {
    for (const late of kept.splice(0)) late.send(late.frame);
    return right(request);
  });
  const before = words(open.answers).length;
  await open.until((answers) => words(answers).length >= before + 6);
  expect(allRight(open.answers)).toBe(true);
});

test('answers that come byte by byte, or two glued, are right', { timeout: 20_000 }, async () => {
  peer = await device((request, socket) => {
    for (const byte of right(request)) socket.write(Buffer.from([byte]));
    return undefined;
  });
  open = watch(peer.port, SIGNALS);
  await open.until((answers) => words(answers).length >= 6);
  expect(allRight(open.answers)).toBe(true);
});

test.each([1, 3, 6, 10, 11])(
  'exception %i is an answer: refused, with its code, and the connection stays',
  { timeout: 20_000 },
  async (code) => {
    peer = await device((request) =>
      Buffer.concat([request.subarray(0, 4), Buffer.from([0, 3, request[6]!, 0x83, code])]),
    );
    open = watch(peer.port, SIGNALS);
    await open.until((answers) => nothings(answers).filter((one) => one.why === 'refused').length >= 4);
    expect(
      nothings(open.answers)
        .filter((one) => one.why === 'refused')
        .every((one) => one.code === code),
    ).toBe(true);
    expect(words(open.answers)).toEqual([]);
  },
);

test('one refused address is found, named and left out; its neighbours go on', {
  timeout: 20_000,
}, async () => {
  peer = await device((request) => {
    const from = request.readUInt16BE(8);
    const touches = from <= 101 && 101 < from + request.readUInt16BE(10);
    return touches
      ? Buffer.concat([request.subarray(0, 4), Buffer.from([0, 3, request[6]!, 0x83, 2])])
      : right(request);
  });
  open = watch(peer.port, SIGNALS);
  await open.until(
    (answers, events) => events.some((one) => one.kind === 'refused') && newest(answers).length === 2,
  );
  expect(open.events.find((one) => one.kind === 'refused')?.params).toMatchObject({
    address: 101,
    exception: 2,
  });
  expect(newest(open.answers)).toEqual([100, -1]);
});

test('a peer that is not there: absence at every slot, and stop ends it', { timeout: 20_000 }, async () => {
  const gone = await device();
  await gone.stop();
  open = watch(gone.port, SIGNALS);
  await open.until((answers) => nothings(answers).length >= 6);
  expect(nothings(open.answers).every((one) => one.why === 'interrupted')).toBe(true);
});
