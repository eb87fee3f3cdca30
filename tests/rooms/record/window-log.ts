import type { Entry, EntryKind } from '../../../src/record/index.ts';

/** A small log in memory: entries get their numbers, one second apart. */
export interface LogMaker {
  readonly entries: Entry[];
  put(kind: EntryKind, subject: string, body?: object, actor?: string): Entry;
  own(window: string): Entry[];
}

const BOOK = {
  site: 'saltmarsh-mill',
  machines: [{ name: 'E1' }, { name: 'C2' }],
  interlocks: [
    { name: 'E1.stop', machine: 0 },
    { name: 'E1.alarm', machine: 0 },
    { name: 'C2.stop', machine: 1 },
  ],
};
export const BOOK_HASH = 'b'.repeat(64);

export const newMaker = (): LogMaker => {
  const entries: Entry[] = [];
  const own: LogMaker = {
    entries,
    put(kind, subject, body = {}, actor = 'daemon') {
      const seq = entries.length;
      const utc = `2026-11-25T09:${String(Math.floor(seq / 60)).padStart(2, '0')}:${String(seq % 60).padStart(2, '0')}.000000Z`;
      const entry = { version: 1, seq, kind, subject, actor, utc, monotonic: seq, boot: 'b', body } as Entry;
      entries.push(entry);
      return entry;
    },
    own: (window) => entries.filter(({ subject }) => subject === window),
  };
  own.put('genesis', 'saltmarsh-mill', { log: 'l-1', site: 'saltmarsh-mill' });
  own.put('book', 'saltmarsh-mill', { hash: BOOK_HASH, book: BOOK });
  return own;
};

export const trial = (interlock: number, outcome: string, more: object = {}) => ({
  finding: {
    kind: 'trial',
    at: 1,
    interlock,
    trial: 1,
    verdict: { outcome, standing: 'complete', asFound: true, reasons: [], ...more },
  },
});
export const verdict = (interlock: number, outcome: string) => ({
  finding: { kind: 'window', at: 1, interlock, trial: 1, verdict: { outcome, reasons: [] } },
});

/** A window with everything that people may write in it, closed unless told otherwise. */
export const putWindow = (log: LogMaker, id: string, outcome = 'pass', close = true): void => {
  log.put(
    'window-opened',
    id,
    {
      stimuli: [{ interlock: 0, method: 'blocked' }],
      book: BOOK_HASH,
      engine: 1,
      people: [
        { name: 'Ada Post', role: 'sensor' },
        { name: 'Ben Mill', role: 'witness' },
      ],
      note: 'permit 118',
      revisions: { E1: '41' },
    },
    'Ada Post',
  );
  log.put('trace', id, { block: 'c'.repeat(64), count: 1 });
  log.put('mark', id, {
    mark: { code: 'attested', at: 1, by: 'Ben Mill', machine: 0, what: 'horn-heard', where: 'head house' },
    position: 1,
  });
  log.put('mark', id, {
    mark: { code: 'bypassed', at: 1, by: 'Ada Post', interlock: 0, text: 'jumper' },
    position: 1,
  });
  log.put('mark', id, {
    mark: { code: 'revision', at: 1, machine: 0, text: '41', quality: 'tag' },
    position: 1,
  });
  log.put('finding', id, trial(0, outcome));
  log.put('verdict', id, verdict(0, outcome));
  if (close) log.put('window-closed', id, {}, 'Ada Post');
};
