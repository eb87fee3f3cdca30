import { type Entry, parseEntry } from '../../record/index.ts';
import { type History, historyOf } from '../../report/index.ts';
import { type LogReader, readLog } from '../../store/index.ts';
import { pastEntry } from '../history.ts';

/** A log that is read on where it was left, so that asking again costs only what is new. */
export interface LogIndex {
  /** How many entries were read, with those of this moment. */
  size(): number;
  /** What the log says of the past; the same object until something is entered. */
  history(): History;
  /** Entries about a window in their order, and the book that it was judged by; undefined: there is no such window. */
  window(id: string): { readonly own: readonly Entry[]; readonly book: Entry } | undefined;
  /** The window's opening as entered. */
  opening(id: string): Entry | undefined;
  /** Entries with answers of a window, from number `from` on. */
  traces(id: string, from: number): readonly Entry[];
  readonly reader: LogReader;
}

interface Span {
  readonly opened: Entry;
  /** Entry that ended it. */
  ended?: number;
}

export const createLogIndex = (path: string): LogIndex => {
  const reader = readLog(path);
  /** What a history is made from. */
  const past: Entry[] = [];
  const books = new Map<string, Entry>();
  const windows = new Map<string, Span>();
  let next = 0;
  let made: { readonly size: number; readonly history: History } | undefined;

  /** A book is entered at each start of a daemon: one of the same hash is held once. */
  const slim = (entry: Entry): Entry => {
    const hash = String(entry.body['hash']);
    if (entry.kind !== 'book') return entry;
    if (books.has(hash)) return { ...entry, body: { hash } };
    books.set(hash, entry);
    return entry;
  };

  const take = (entry: Entry): void => {
    past.push(slim(entry));
    const { kind, subject, seq } = entry;
    if (kind === 'window-opened' && !windows.has(subject)) windows.set(subject, { opened: entry });
    const span = windows.get(subject);
    if (span !== undefined && (kind === 'window-closed' || kind === 'window-interrupted')) span.ended ??= seq;
  };

  const readOn = (): void => {
    for (const { seq, text } of reader.entries(next)) {
      const entry = pastEntry(text);
      if (entry !== undefined) take(entry);
      next = seq + 1;
    }
  };

  const parsedBetween = (id: string, from: number, to: number, wanted: (text: string) => boolean): Entry[] =>
    reader
      .between(from, to, `"subject":${JSON.stringify(id)}`)
      .filter(({ text }) => wanted(text))
      .flatMap(({ text }) => {
        const parsed = parseEntry(text);
        return 'entry' in parsed && parsed.entry.subject === id ? [parsed.entry] : [];
      });

  return {
    reader,
    size() {
      readOn();
      return next;
    },
    history() {
      readOn();
      if (made?.size !== next) made = { size: next, history: historyOf(past) };
      return made.history;
    },
    window(id) {
      readOn();
      const span = windows.get(id);
      const book = books.get(String(span?.opened.body['book']));
      if (span === undefined || book === undefined) return undefined;
      const end = span.ended ?? next - 1;
      const own = parsedBetween(id, span.opened.seq, end, () => true);
      const later = past.filter(({ seq, subject }) => subject === id && seq > end);
      return { own: [...own, ...later], book };
    },
    opening(id) {
      readOn();
      return windows.get(id)?.opened;
    },
    traces(id, from) {
      const span = windows.get(id);
      if (span === undefined) return [];
      const first = Math.max(from, span.opened.seq);
      return parsedBetween(id, first, span.ended ?? next - 1, (text) => text.includes('"kind":"trace"'));
    },
  };
};
