/** What people wrote, as a report shows it: as corrected, and saying so. */
import { expect, test } from 'vitest';
import { notesOf, openingOf, papersOf } from '../../../src/daemon/papers.ts';
import type { StoredWindow } from '../../../src/daemon/replay.ts';
import type { Entry } from '../../../src/record/index.ts';
import { type LogMaker, newMaker, putWindow } from '../record/window-log.ts';

const stored = (log: LogMaker): StoredWindow => {
  const entries: readonly Entry[] = log.own('w1');
  const book = {
    machines: [{ name: 'E1' }],
    records: { independentReviewer: true, signatures: ['reviewed'] },
  };
  return { id: 'w1', entries, opened: entries[0], book } as unknown as StoredWindow;
};
const papersIn = (log: LogMaker) => {
  const { entries, book } = stored(log);
  return papersOf(entries, book);
};
const amend = (log: LogMaker, of: number, field: string, was: string, becomes: string): number =>
  log.put('amendment', 'w1', { of, field, was, becomes, reason: 'slip' }, 'Cleo').seq;

test('people and note stand as they were stated, roles in words, and fill the fields that a record asks for', () => {
  const log = newMaker();
  putWindow(log, 'w1');
  expect(openingOf(stored(log))).toEqual({
    people: [
      { name: 'Ada Post', role: 'at the sensor' },
      { name: 'Ben Mill', role: 'witness' },
    ],
    stated: { note: 'permit 118', witness: 'Ben Mill' },
  });
});

test('what was corrected says so where it stands', () => {
  const log = newMaker();
  putWindow(log, 'w1');
  const note = amend(log, 2, 'body.note', 'permit 118', 'permit 119');
  const name = amend(log, 2, 'body.people.1.name', 'Ben Mill', 'Benno Mill');
  const where = amend(log, 4, 'body.mark.where', 'head house', 'pit');
  const text = amend(log, 5, 'body.mark.text', 'jumper', 'key switch');
  amend(log, 2, 'body.note', 'never there', 'forged');
  const { people, stated: said } = openingOf(stored(log));
  expect(said['note']).toBe(`permit 119 (corrected: entry ${note})`);
  expect(people[1]?.name).toBe(`Benno Mill (corrected: entry ${name})`);
  expect(papersIn(log).attestations).toMatchObject([{ by: 'Ben Mill', machine: 'E1', where: 'pit' }]);
  expect(notesOf(stored(log), 0).map(({ text: one }) => one)).toEqual([
    'attested: horn heard (pit)',
    `bypassed: key switch (corrected: entry ${text})`,
  ]);
  expect(where).toBeGreaterThan(0);
  expect(papersIn(log).amendments.map(({ fits }) => fits)).toEqual([true, true, true, true, false]);
  expect(papersIn(log).signing.missing).toEqual(['reviewed']);
});
