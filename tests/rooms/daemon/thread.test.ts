/** Questions to a thread beside the one that polls. */
import { afterEach, expect, test, vi } from 'vitest';
import { createThread, type Thread } from '../../../src/daemon/thread.ts';

const IDLE_MS = 1_000;

/** Says what it was asked; the real script is built, this one stands in its place. */
const ECHO = new URL(
  `data:text/javascript,${encodeURIComponent(`
    import { parentPort } from 'node:worker_threads';
    parentPort.on('message', ({ id, question }) =>
      parentPort.postMessage(question === 'bad' ? { id, trouble: 'not that' } : { id, answer: question }));
  `)}`,
);

let thread: Thread<string, string> | undefined;
afterEach(async () => {
  vi.useRealTimers();
  await thread?.stop();
});

test('each question gets its own answer, or what went wrong', async () => {
  thread = createThread(ECHO, '');
  const asked = ['one', 'bad', 'two'].map((question) => thread?.ask(question));
  expect(await Promise.allSettled(asked)).toMatchObject([
    { value: 'one' },
    { reason: { message: 'not that' } },
    { value: 'two' },
  ]);
});

test('a question that comes just before the thread would rest is answered all the same; after a rest it begins anew', async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
  thread = createThread(ECHO, '', IDLE_MS);
  expect(await thread.ask('one')).toBe('one');
  vi.advanceTimersByTime(IDLE_MS - 1);
  const late = thread.ask('two');
  vi.advanceTimersByTime(IDLE_MS);
  expect(await late).toBe('two');
  vi.advanceTimersByTime(IDLE_MS);
  expect(await thread.ask('three')).toBe('three');
});
