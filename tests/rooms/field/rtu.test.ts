/**
 * Lines without transaction ids. Every answer carries the number of the question that it answers, so that one that
 * belongs to an earlier question is seen, whatever address it has. Silence between frames: Serial Line V1.02, 2.5.1.1.
 */
import { afterEach, describe, expect, test } from 'vitest';
import { gapOf } from '../../../src/field/modbus/question.ts';
import type { Answer, ModbusSource } from '../../../src/signal/index.ts';
import { nothings, rightRtu, signalAt, sourceOn, type Watched, watchAll, withCrc, words } from './rig.ts';
import { converter, hasSocat, ptyDevice, type RtuDevice, type Talk } from './serial-rig.ts';

/** Two requests of the same shape: an answer to one would pass for the other's. */
const SIGNALS = [100, 101, 102, 300, 301, 302].map((at, index) => signalAt(index, 'holding', at));

let open: Watched | undefined;
let peer: RtuDevice | undefined;
afterEach(async () => {
  await open?.stop();
  await peer?.stop();
});

let asked = 0;
/** Each register: its address from 100 on in the upper byte, the number of the question in the lower. */
const valueAt = (at: number): number => ((at - 100) << 8) | (asked & 0xff);
const numbered = (question: Buffer): Buffer => {
  asked += 1;
  const body = rightRtu(question).subarray(0, -2);
  for (let at = 3; at < body.length; at += 2) body.writeUInt16BE(valueAt(body.readUInt16BE(at)), at);
  return withCrc(body);
};
const plain: Talk = (question, say) => say(numbered(question));

/** What was taken for good although it answered another question than the last one, or another address. */
const wrong: Answer[] = [];
let seen = 0;
const begin = (line: RtuDevice['line'], more: Partial<ModbusSource> = {}): Watched => {
  asked = 0;
  seen = 0;
  wrong.length = 0;
  return watchAll([sourceOn(line, { timeout: 100_000, ...more })], SIGNALS);
};
const until = (watched: Watched, test_: (answers: readonly Answer[]) => boolean): Promise<void> =>
  watched.until((answers) => {
    for (; seen < answers.length; seen += 1) {
      const one = answers[seen]!;
      if (one.kind !== 'words') continue;
      const first = one.request === 0 ? 100 : 300;
      if (one.words.some((word, index) => word !== -2 && word !== valueAt(first + index))) wrong.push(one);
    }
    return test_(answers);
  });

test.each([
  [9_600, 4.01],
  [19_200, 2.005],
  [38_400, 1.75],
  [115_200, 1.75],
])('at %i baud frames are at least %f ms apart', (baud, gap) => {
  expect(gapOf({ kind: 'serial', path: '', baud, parity: 'even', dataBits: 8, stopBits: 1 })).toBeCloseTo(
    gap,
    3,
  );
});

const LINES = [
  { name: 'RTU over TCP', there: true, start: converter, some: () => true },
  {
    name: hasSocat ? 'serial' : 'serial (skipped: socat is missing)',
    there: hasSocat,
    start: ptyDevice,
    some: (trouble: string) => /after the time-out$|behind|checksum|twice/.test(trouble),
  },
];

/** Each goes wrong for a while, then right again. */
const TROUBLES: readonly (readonly [string, () => Talk])[] = [
  ['says nothing', () => () => undefined],
  [
    'answers after the time-out',
    () => (question, say) => {
      const late = numbered(question);
      setTimeout(() => say(late), 160);
    },
  ],
  [
    'answers after the time-out and the silence behind it',
    () => (question, say) => {
      const late = numbered(question);
      setTimeout(() => say(late), 260);
    },
  ],
  [
    'is one answer behind for ever',
    () => {
      let before: Buffer | undefined;
      return (question, say) => {
        if (before) say(before);
        before = numbered(question);
      };
    },
  ],
  [
    'answers with a wrong checksum',
    () => (question, say) => {
      const frame = numbered(question);
      frame[4] = frame[4]! ^ 0x40;
      say(frame);
    },
  ],
  [
    'answers for another unit',
    () => (question, say) => say(withCrc(Buffer.from([9, 3, 2, 0, question[3]!]))),
  ],
  ['cuts its answers short', () => (question, say) => say(numbered(question).subarray(0, 7))],
  [
    'answers twice',
    () => (question, say) => {
      const frame = numbered(question);
      say(frame);
      say(frame);
    },
  ],
  [
    'says its last answer again before the right one',
    () => {
      let before: Buffer | undefined;
      return (question, say) => {
        const answer = numbered(question);
        if (before) say(before);
        before = answer;
        // Two rounds of the loop later, so that they are read one by one.
        setImmediate(() => setImmediate(() => say(answer)));
      };
    },
  ],
  ['sends garbage', () => (_question, say) => say(Buffer.from([0, 255, 3, 1]))],
  ['adds a byte', () => (question, say) => say(Buffer.concat([numbered(question), Buffer.from([0])]))],
];

for (const { name, there, start, some } of LINES) {
  describe.skipIf(!there)(name, () => {
    test('values are right, one question at a time', { timeout: 10_000 }, async () => {
      peer = await start(plain);
      open = begin(peer.line, { inFlight: 8, timeout: 3_000_000 });
      await until(open, (answers) => words(answers).length >= 20);
      expect(wrong).toEqual([]);
      expect(nothings(open.answers)).toEqual([]);
    });

    test.each(TROUBLES.filter(([trouble]) => some(trouble)))(
      'a device that %s: never a wrong value as good, and back',
      { timeout: 15_000 },
      async (_name, trouble) => {
        peer = await start(plain);
        open = begin(peer.line);
        await until(open, (answers) => words(answers).length >= 4);
        peer.behave(trouble());
        const troubled = open.answers.length;
        await until(
          open,
          (answers) => answers.length >= troubled + 60 && open!.events.some((one) => one.kind === 'lost'),
        );
        peer.behave(plain);
        const before = words(open.answers).length;
        await until(
          open,
          (answers) => words(answers).length >= before + 6 && open!.events.at(-1)?.kind === 'back',
        );
        expect(wrong).toEqual([]);
        // Of a busy machine: it asked too late itself.
        const allowed = ['timed-out', 'interrupted', 'not-polled'];
        const reasons = new Set<string>(nothings(open.answers).map(({ why }) => why));
        expect([...reasons].filter((why) => !allowed.includes(why))).toEqual([]);
      },
    );
  });
}

test('an answer that nobody asked for puts the unit in doubt', { timeout: 10_000 }, async () => {
  peer = await converter(plain);
  open = begin(peer.line, { poll: 150_000, timeout: 400_000 });
  await until(open, (answers) => words(answers).length >= 2);
  peer.blurt(withCrc(Buffer.from([1, 3, 6, 0, 100, 0, 0, 0, 102])));
  await until(open, () => open!.events.some((one) => one.kind === 'lost'));
  expect(open.events[0]).toMatchObject({ code: 'unasked-bytes', params: { next: 'check-line' } });
  await until(open, () => open!.events.some((one) => one.kind === 'back'));
  expect(wrong).toEqual([]);
});

test('a unit in doubt does not stop the others on its line', { timeout: 10_000 }, async () => {
  let mute = false;
  peer = await converter((question, say) => {
    if (!(mute && question[0] === 2)) say(rightRtu(question));
  });
  const both = [signalAt(0, 'holding', 100, 0), signalAt(1, 'holding', 100, 1)];
  const line = sourceOn(peer.line, { timeout: 100_000 });
  open = watchAll([line, { ...line, unit: 2 }], both);
  await open.until((answers) => words(answers).some((one) => one.source === 1));
  mute = true;
  const from = open.answers.length;
  await open.until((answers) => words(answers.slice(from)).filter((one) => one.source === 0).length >= 30);
  const since = open.answers.slice(from);
  expect(nothings(since).filter((one) => one.source === 0)).toEqual([]);
  expect(nothings(since).filter((one) => one.source === 1).length).toBeGreaterThan(10);
});
