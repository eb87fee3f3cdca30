/** What a daemon takes up from its log when it starts: read once, whatever is asked of it. */
import { expect, test } from 'vitest';
import { beginningOf } from '../../../src/daemon/beginning.ts';
import type { WindowVerdict } from '../../../src/judge/index.ts';
import { instant } from '../../../src/measure/index.ts';
import type { InterlockId } from '../../../src/rulebook/index.ts';
import { bookOf, underspeed } from '../judge/rig.ts';
import { Grown } from '../record/bundled.ts';

const book = bookOf([underspeed()]);
const hash = 'b'.repeat(64);
const stop = 0 as InterlockId;
const machine = book.machines[0]?.name ?? '';

const passAt = (rpm: number): object => {
  const verdict = { outcome: 'pass', normal: { low: rpm, high: rpm }, trials: [], reasons: [] } as object;
  return { finding: { kind: 'window', interlock: stop, verdict: verdict as WindowVerdict } };
};

const opening = (log: Grown, id: string): void => {
  log.add('window-opened', id, { book: hash, stimuli: [{ interlock: stop, method: 'injected' }] });
};

/** Its name would end its own text, if names were not escaped. */
const TRICKY = 'w-3","utc":"2000"';

const grow = (): Grown => {
  const log = new Grown();
  log.add('genesis', book.site, { log: 'l-1', site: book.site });
  log.add('book', book.site, { hash, book });
  log.add('revision', machine, { machine, text: 'A', quality: 'tag' });
  opening(log, 'w-1');
  log.add('mark', 'w-1', { mark: { code: 'revision', at: 1, machine: 0, text: 'B', quality: 'tag' } });
  log.add('verdict', 'w-1', passAt(96));
  log.add('window-closed', 'w-1', {});
  log.add('revision', machine, { machine, text: 'C', quality: 'typed' });
  for (const id of ['w-2', TRICKY]) {
    opening(log, id);
    log.add('trace', id, { block: 'c'.repeat(64), subject: 'w-1' });
    log.add('finding', id, { finding: { kind: 'trial', text: `"subject":"${id}"` } });
  }
  log.add('mark', TRICKY, { mark: { code: 'now', at: 1, by: 'Ada', text: '"kind":"window-closed"' } });
  opening(log, 'w-4');
  log.add('window-interrupted', 'w-4', {});
  return log;
};

test('windows without an end with their entries, the last normals, what runs where: in one reading', () => {
  const { source } = grow();
  let readings = 0;
  const { interrupted, normals, revisions } = beginningOf({
    entries() {
      readings += 1;
      return source.entries();
    },
  });
  expect(readings).toBe(1);
  expect(interrupted).toEqual([
    { id: 'w-2', entries: 3 },
    { id: TRICKY, entries: 4 },
  ]);
  expect(normals.marks(book, [stop], instant(9))).toMatchObject([
    { code: 'earlier-normal', value: { low: 96, high: 96 }, window: 'w-1' },
  ]);
  expect([...revisions]).toEqual([[machine, { text: 'C', quality: 'typed' }]]);
});

test('a log that is begun knows nothing', () => {
  const { interrupted, normals, revisions } = beginningOf({ entries: () => [] });
  expect(interrupted).toEqual([]);
  expect(normals.marks(book, [stop], instant(9))).toEqual([]);
  expect(revisions.size).toBe(0);
});
