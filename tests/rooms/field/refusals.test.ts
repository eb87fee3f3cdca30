/** What a refusal, an accepted connection and a stop may and may not do. */
import { afterEach, expect, test, vi } from 'vitest';
import { type Device, device, newest, right, signalAt, type Watched, watch } from './rig.ts';

const SIGNALS = [signalAt(0, 'holding', 100), signalAt(1, 'holding', 101), signalAt(2, 'holding', 102)];
let open: Watched | undefined;
let peer: Device | undefined;
afterEach(async () => {
  vi.restoreAllMocks();
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

/** Sets the clock of the slots ahead, by so many seconds. */
const laterBy = (seconds: number): void => {
  const now = performance.now.bind(performance);
  vi.spyOn(performance, 'now').mockImplementation(() => now() + seconds * 1_000);
};

test('after a minute what was refused is asked by itself: its neighbours lose nothing', {
  timeout: 10_000,
}, async () => {
  peer = await device(refusing);
  open = watch(peer.port, SIGNALS);
  await open.until((answers) => newest(answers).join() === '100,-1,102');
  const asked: string[] = [];
  peer.behave((request) => {
    asked.push(`${request.readUInt16BE(8)}+${request.readUInt16BE(10)}`);
    return refusing(request);
  });
  laterBy(61);
  await open.until(() => asked.includes('101+1'));
  const until = open.answers.length;
  await open.until((answers) => answers.length >= until + 4);
  expect([...new Set(asked)].sort()).toEqual(['100+1', '101+1', '102+1']);
});

test('a block that was refused once is whole again after ten minutes, but not while a window needs it', {
  timeout: 10_000,
}, async () => {
  let refusals = 1;
  const asked: string[] = [];
  peer = await device((request) => {
    asked.push(`${request.readUInt16BE(8)}+${request.readUInt16BE(10)}`);
    refusals -= 1;
    return refusals >= 0 ? exception(request, 2) : right(request);
  });
  open = watch(peer.port, SIGNALS);
  await open.until((answers) => newest(answers).join() === '100,101,102');
  open.source.focus(SIGNALS.map(({ id }) => id));
  laterBy(601);
  asked.length = 0;
  await open.until(() => asked.length >= 8);
  expect(asked).not.toContain('100+3');
  open.source.focus(undefined);
  await open.until(() => asked.includes('100+3'));
});
