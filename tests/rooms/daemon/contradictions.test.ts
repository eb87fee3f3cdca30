/** What the daemon remembers of contradictions, and which findings are nobody's business during a test. */
import { expect, test } from 'vitest';
import { createContradictions } from '../../../src/daemon/contradictions.ts';
import { isAside } from '../../../src/daemon/told.ts';
import type { Finding } from '../../../src/judge/index.ts';
import { instant, SECOND } from '../../../src/measure/index.ts';
import type { Book, InterlockId } from '../../../src/rulebook/index.ts';

const book = {
  interlocks: [{ name: 'E1.stop', cause: { signal: 0 } }],
  signals: [{ unit: 'rpm' }],
  machines: [{ name: 'E1' }, { name: 'E2' }],
} as unknown as Book;

type Contradiction = Finding & { kind: 'contradiction' };

const contradiction = (seconds: number, about: Partial<Contradiction> = {}): Contradiction => ({
  kind: 'contradiction',
  at: instant(seconds * SECOND),
  interlock: 0 as InterlockId,
  trial: 0,
  machine: 0,
  dangerous: true,
  reason: { code: 'cause-without-effect', params: { interlock: 'E1.stop', signal: 'E1.speed' } },
  ...about,
});

test('what two pipelines find of the same moment is one contradiction; when it comes again it is another', () => {
  const kept = createContradictions(book);
  const first = kept.take(contradiction(10), '');
  expect(first).toMatchObject({ number: 1, machine: 'E1', interlock: 'E1.stop', dangerous: true });
  expect(first?.text).toMatch(/^DANGEROUS: E1\.stop does not act/);
  expect(first?.utc).toBe('1970-01-01T00:00:10.000000Z');
  expect(kept.take(contradiction(10), 'w1')).toBeUndefined();
  expect(kept.take(contradiction(10, { machine: 1 }), '')).toMatchObject({ number: 2, machine: 'E2' });
  expect(kept.take(contradiction(25), 'w1')).toMatchObject({ number: 3, window: 'w1' });
  expect(kept.newest().map(({ number }) => number)).toEqual([3, 2, 1]);
});

test('the newest twenty are kept', () => {
  const kept = createContradictions(book);
  for (let time = 0; time < 30; time += 1) kept.take(contradiction(10 * time), '');
  expect(kept.newest().map(({ number }) => number)).toEqual(
    Array.from({ length: 20 }, (_, index) => 30 - index),
  );
});

const subject = { demand: false, opened: 100 * SECOND, interlocks: new Set([0]), machines: new Set([0]) };
const event = (seconds: number, about: Partial<Finding> = {}): Finding =>
  ({
    kind: 'event',
    at: instant(seconds * SECOND),
    interlock: 0 as InterlockId,
    trial: 1,
    reason: { code: 'trial-began', params: {} },
    ...about,
  }) as Finding;

test.each([
  ['what is under test', event(101), false],
  ['what is not under test', event(101, { demand: true }), true],
  ['what came before the window', event(99), true],
  ['a danger anywhere, at any time', contradiction(99, { interlock: -1 as InterlockId, machine: 1 }), false],
  [
    'a contradiction elsewhere',
    contradiction(101, { interlock: 7 as InterlockId, machine: 1, dangerous: false }),
    true,
  ],
  [
    'a contradiction at the machine',
    contradiction(101, { interlock: -1 as InterlockId, dangerous: false }),
    false,
  ],
])('%s: aside?', (_, finding, aside) => {
  expect(isAside(finding, subject)).toBe(aside);
});

test('of a demand everything counts but what an interlock waits for', () => {
  const demand = { demand: true, opened: 0, interlocks: new Set<number>(), machines: new Set<number>() };
  expect(isAside(event(5, { demand: true }), demand)).toBe(false);
  expect(isAside(event(5, { demand: true, trial: 0 }), demand)).toBe(true);
});
