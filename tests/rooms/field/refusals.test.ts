/** What a refusal, an accepted connection and a stop may and may not do. */
import { afterEach, expect, test } from 'vitest';
import { type Device, device, newest, right, signalAt, type Watched, watch } from './rig.ts';

const SIGNALS = [signalAt(0, 'holding', 100), signalAt(1, 'holding', 101), signalAt(2, 'holding', 102)];
let open: Watched | undefined;
let peer: Device | undefined;
afterEach(async () => {
  await open?.source.stop();
  await peer?.stop();
});

const exception = (request: Buffer, code: number): Buffer =>
  Buffer.concat([request.subarray(0, 4), Buffer.from([0, 3, request[6]!, 0x83, code])]);
const refusing = (request: Buffer): Buffer => {
  const from = request.readUInt16BE(8);
  return from <= 101 && 101 < from + request.readUInt16BE(10) ? exception(request, 2) : right(request);
};

test('a device that is busy once loses no address for ever', { timeout: 10_000 }, async () => {
  peer = await device(refusing);
  open = watch(peer.port, SIGNALS);
  await open.until((answers) => answers.some((one) => one.kind === 'words'));
  peer.behave((request) => exception(request, 6));
  const before = open.answers.length;
  await open.until((answers) => answers.length >= before + 4);
  peer.behave(refusing);
  const busy = open.answers.length;
  await open.until((answers) => answers.slice(busy).filter((one) => one.kind === 'words').length >= 6);
  expect(newest(open.answers.slice(busy))).toEqual([100, -1, 102]);
});

test('a refusal that lasts is told once, not at each poll', { timeout: 10_000 }, async () => {
  peer = await device((request) => exception(request, 6));
  open = watch(peer.port, SIGNALS);
  await open.until((answers) => answers.length >= 12);
  expect(open.events.filter((one) => one.kind === 'refused')).toHaveLength(1);
});

test('an accepted connection is not a device that answers: nothing is back', {
  timeout: 10_000,
}, async () => {
  peer = await device(() => undefined);
  open = watch(peer.port, SIGNALS);
  const reconnected = (): boolean => (open?.source.stats().reconnects ?? 0) >= 2;
  await open.until(() => reconnected());
  expect(open.events.map((one) => one.kind)).toEqual(['lost']);
});

test('once stopped, nothing more is said', { timeout: 10_000 }, async () => {
  let asked: () => void = () => undefined;
  const question = new Promise<void>((resolve) => {
    asked = resolve;
  });
  peer = await device(() => {
    asked();
    return undefined;
  });
  open = watch(peer.port, SIGNALS);
  await question;
  await open.source.stop();
  const said = open.answers.length + open.events.length;
  await new Promise<void>((resolve) => setImmediate(resolve));
  expect(open.answers.length + open.events.length).toBe(said);
});
