/** What a log says of the past, from entries alone. */
import { expect, test } from 'vitest';
import { bookNow, historyOf } from '../../../src/report/index.ts';
import { bookOf, load, ROOT } from '../config/load.ts';
import { hashOf, pastOf } from './past.ts';

const book = bookOf(load(`${ROOT}config/demo-site.yaml`));
const STOP = 'E1.underspeed-stop';
const ALARM = 'E1.underspeed-alarm';

test('a window with its people, revisions at both ends, verdicts and what was entered on it later', () => {
  const past = pastOf('2026-01-01', book).window('2026-01-02', {
    id: 'w1',
    tested: [
      { name: STOP, verdict: { outcome: 'pass' } },
      { name: ALARM, method: 'real', verdict: { outcome: 'fail' } },
    ],
    revisions: { E1: ['V1', 'V2'] },
  });
  const opening = past.entries.findIndex(({ kind }) => kind === 'window-opened');
  past
    .enter('2026-01-03', 'signature', 'w1', { meaning: 'reviewed' })
    .enter('2026-01-03', 'amendment', '', {
      of: opening,
      field: 'note',
      was: '',
      becomes: 'wet',
      reason: 'forgotten',
    })
    .enter('2026-01-04', 'register', STOP, { item: 'punch', id: 'punch-1', action: 'opened', text: 'loose' });
  const history = historyOf(past.entries);
  expect(history).toMatchObject({ log: 'a'.repeat(32), site: book.site });
  expect(bookNow(history)?.interlocks.length).toBe(book.interlocks.length);
  expect(history.windows).toHaveLength(1);
  expect(history.windows[0]).toMatchObject({
    id: 'w1',
    entry: opening,
    standing: 'closed',
    demand: false,
    bookHash: hashOf(book),
    people: [{ name: 'A. Fitter', role: 'sensor' }],
    revisions: [{ machine: 'E1', opened: 'V1', closed: 'V2', quality: 'tag' }],
    signatures: [{ actor: 'fitter', body: { meaning: 'reviewed' } }],
    amendments: [{ body: { becomes: 'wet' } }],
  });
  // In the order of the book, by name.
  expect(history.windows[0]?.interlocks).toMatchObject([
    { name: ALARM, method: 'real', demand: false, verdict: { outcome: 'fail' } },
    { name: STOP, method: 'injected', demand: false, verdict: { outcome: 'pass' } },
  ]);
  expect(history.register).toMatchObject([{ on: STOP, id: 'punch-1', standing: 'open' }]);
  expect(history.revisions.map(({ machine, text, window }) => [machine, text, window])).toEqual([
    ['E1', 'V1', 'w1'],
    ['E1', 'V2', 'w1'],
  ]);
});

test('an interrupted window is at most inconclusive, an open one says nothing, a demand is marked', () => {
  const past = pastOf('2026-01-01', book)
    .window('2026-01-02', {
      id: 'w1',
      tested: [{ name: STOP, verdict: { outcome: 'pass' } }],
      interrupted: true,
    })
    .window('2026-01-03', { id: 'd1', tested: [{ name: STOP, verdict: { outcome: 'pass' } }], demand: true });
  const [interrupted, demand] = historyOf(past.entries).windows;
  expect(interrupted).toMatchObject({
    standing: 'interrupted',
    interlocks: [{ name: STOP, verdict: { outcome: 'inconclusive' } }],
  });
  expect(demand).toMatchObject({ standing: 'closed', demand: true, interlocks: [{ demand: true }] });
  const open = historyOf(past.entries.slice(0, 4)).windows;
  expect(open).toMatchObject([{ standing: 'open', interlocks: [] }]);
});

test('scopes, revisions and dangers outside of windows; a body that is none is passed over', () => {
  const finding = {
    kind: 'contradiction',
    at: 0,
    interlock: book.interlocks.findIndex(({ name }) => name === STOP),
    trial: 0,
    machine: 0,
    dangerous: true,
    reason: { code: 'cause-without-effect', params: {} },
  };
  const past = pastOf('2026-01-01', book)
    .revision('2026-01-02', 'E1', 'V2')
    .enter('2026-01-03', 'scope', '', {
      change: 'timer',
      revision: 'V2',
      machines: ['E1'],
      prove: { [STOP]: 'direct' },
    })
    .enter('2026-01-03', 'scope', '', { change: 7 })
    .enter('2026-01-04', 'contradiction', 'E1', { finding });
  const { scopes, revisions, dangers } = historyOf(past.entries);
  expect(scopes).toMatchObject([{ by: 'fitter', revision: 'V2', prove: { [STOP]: 'direct' } }]);
  expect(revisions).toMatchObject([{ machine: 'E1', text: 'V2', window: '', quality: 'tag' }]);
  expect(dangers).toMatchObject([{ interlock: STOP, window: '' }]);
});

/** What the door must keep open: kinds that the history reads and no other. */
test('answers are never looked at', () => {
  const past = pastOf('2026-01-01', book);
  const trap = new Proxy({ ...past.entries[0], kind: 'trace' } as never, {
    get: (target, key) => {
      if (key === 'body') throw new Error('a trace was looked at');
      return Reflect.get(target, key) as unknown;
    },
  });
  expect(historyOf([...past.entries, trap]).windows).toEqual([]);
});
