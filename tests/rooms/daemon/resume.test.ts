/** A guided window goes on after the daemon was away: nothing that was held of the plant counts, and what cannot go on does not. */
import { expect, test } from 'vitest';
import { createPipeline } from '../../../src/daemon/pipeline.ts';
import { judgeAgain, type StoredWindow } from '../../../src/daemon/replay.ts';
import { PATIENCE, resumingFault } from '../../../src/daemon/resuming.ts';
import { ENGINE, type Mark } from '../../../src/judge/index.ts';
import { type Instant, later, SECOND } from '../../../src/measure/index.ts';
import type { Entry } from '../../../src/record/index.ts';
import type { Answer } from '../../../src/signal/index.ts';
import { at, book, plan, wordsOf } from './leg.ts';

const STOP = book.interlocks.find(({ name }) => name === 'E1.underspeed-stop');
if (STOP === undefined) throw new Error('the leg has changed');

const NEVER = 1_000;
const wordsAt = wordsOf({ displaced: [NEVER, NEVER], alarm: NEVER, stop: NEVER });

const answers = (from: number, until: number): Answer[] => {
  const all: Answer[] = [];
  for (let t = from; t < until; t += 0.05)
    plan.requests.forEach((request, index) => {
      const words = wordsAt(t, request.at, request.count);
      const [sent, received] = [at(t), at(t + 0.002)];
      all.push({ kind: 'words', source: request.source, request: index, sent, received, words });
    });
  return all;
};

const OPENED: Mark = {
  code: 'window-opened',
  at: at(1),
  window: 'w',
  stimuli: [{ interlock: STOP.id, method: 'displaced' }],
};
const gap = (from: number, until: number): Mark => ({
  code: 'interrupted',
  at: at(until),
  from: at(from),
  restarted: true,
});

const ran = (until: number) => {
  const pipeline = createPipeline(book);
  pipeline.mark(OPENED);
  for (const answer of answers(1, until)) pipeline.answer(answer);
  return pipeline;
};
const codesOf = (pipeline: ReturnType<typeof ran>): string[] =>
  (pipeline.waits().get(STOP.id)?.waits ?? []).map(({ code }) => code);

// The other source says nothing at all: what is judged is three seconds behind what is read.
test('the start-up time begins anew, although the motor ran long before (armed after 6 s, baseline 2 s)', () => {
  const pipeline = ran(20);
  expect(pipeline.waits().get(STOP.id)?.ready).toBe(true);
  pipeline.mark(gap(20, 20.5));
  expect(pipeline.waits().get(STOP.id)?.ready).toBe(false);
  for (const answer of answers(20.6, 28)) pipeline.answer(answer);
  expect(pipeline.waits().get(STOP.id)?.ready).toBe(false);
  expect(codesOf(pipeline)).toContain('not-armed');
  for (const answer of answers(28, 33)) pipeline.answer(answer);
  expect(pipeline.waits().get(STOP.id)?.ready).toBe(true);
});

test('without the gap it stays ready: the gap is what makes the difference', () => {
  const pipeline = ran(25);
  expect(pipeline.waits().get(STOP.id)?.ready).toBe(true);
});

test('a learned normal counts together with what is learned behind the gap', () => {
  const [learned] = book.machines.flatMap(({ normals }) =>
    normals.filter(({ from }) => from.kind === 'learned'),
  );
  if (learned === undefined) throw new Error('the leg has changed');
  const { signal } = learned;
  const pipeline = ran(30);
  const before = pipeline.known().normals?.[signal];
  expect(before).toBeDefined();
  pipeline.mark(gap(30, 31));
  expect(pipeline.known().normals?.[signal]).toBeUndefined();
  for (const answer of answers(31, 70)) {
    if (answer.kind !== 'words') continue;
    // The head runs slower than it did.
    const request = plan.requests[answer.request];
    const words = answer.words.map((word, index) => ((request?.at ?? 0) + index === 1 ? 900 : word));
    pipeline.answer({ ...answer, words });
  }
  const after = pipeline.known().normals?.[signal];
  expect(after?.high).toBe(before?.high);
  expect(after?.low).toBeLessThan((before?.low ?? 0) - 3);
});

const stored = (more: Partial<StoredWindow> = {}): StoredWindow => ({
  id: 'w',
  entries: [{ utc: '2026-11-26T01:00:00.000000Z' } as Entry],
  opened: { body: { engine: ENGINE } } as unknown as Entry,
  book,
  bookHash: 'a',
  answers: [],
  marks: [],
  findings: [],
  unreadable: [],
  ...more,
});
const LAST = (Date.UTC(2026, 10, 26, 1) * 1_000) as Instant;

test('it goes on within half an hour, on the same site, judged in the same way, and by a clock that went on', () => {
  const code = (more: Partial<StoredWindow>, hash: string, after: number): string | undefined =>
    resumingFault(stored(more), hash, later(LAST, after)).why?.code;
  expect(code({}, 'a', SECOND)).toBeUndefined();
  expect(code({}, 'a', PATIENCE)).toBeUndefined();
  expect(code({}, 'a', PATIENCE + 1)).toBe('guide-too-long');
  expect(code({}, 'a', 0)).toBe('guide-clock-back');
  expect(code({}, 'a', -SECOND)).toBe('guide-clock-back');
  expect(code({}, 'b', SECOND)).toBe('guide-no-book');
  expect(code({ opened: { body: { engine: ENGINE - 1 } } as unknown as Entry }, 'a', SECOND)).toBe(
    'guide-not-the-same',
  );
  expect(code({ unreadable: [3] }, 'a', SECOND)).toBe('guide-not-the-same');
  expect(PATIENCE).toBe(1_800 * SECOND);
});

test('an answer that came behind the last entry is later: nothing is known since then', () => {
  const [answer] = answers(1, 1.01);
  if (answer === undefined) throw new Error('nothing was read');
  const received = later(LAST, 5 * SECOND);
  const known = stored({ answers: [{ ...answer, received }] });
  expect(resumingFault(known, 'a', later(LAST, 6 * SECOND)).from).toBe(received);
});

test('judged again from what stands in the log, a window with a gap comes out the same', () => {
  const before = answers(1, 20);
  const after = answers(21, 35);
  const marks = [
    { mark: OPENED, position: 0, entry: 1 },
    { mark: gap(20, 21), position: before.length, entry: 2 },
    { mark: { code: 'window-closed', at: at(35) } as Mark, position: before.length + after.length, entry: 3 },
  ];
  const pipeline = createPipeline(book, {}, { fromOpening: true });
  const [first, second, third] = marks.map(({ mark }) => mark);
  if (!first || !second || !third) throw new Error('marks');
  const live = [
    ...pipeline.mark(first),
    ...before.flatMap((answer) => pipeline.answer(answer)),
    ...pipeline.mark(second),
    ...after.flatMap((answer) => pipeline.answer(answer)),
    ...pipeline.mark(third),
  ];
  const again = judgeAgain(stored({ answers: [...before, ...after], marks }));
  expect(JSON.stringify(again)).toBe(JSON.stringify(live));
  expect(live.length).toBeGreaterThan(2);
});
