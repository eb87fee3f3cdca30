import type { Finding, Mark } from '../judge/index.ts';
import type { Instant, Interval } from '../measure/index.ts';
import type { Entry } from '../record/index.ts';
import type { Book, InterlockId } from '../rulebook/index.ts';

interface Passed {
  readonly value: Interval;
  /** Of the signal at that time: a value in another unit is not compared. */
  readonly unit: string;
  readonly window: string;
}

/** The normals that passed windows rested on, by name of the interlock. */
export interface EarlierNormals {
  take(book: Book, window: string, finding: Finding): void;
  /** What a window over these interlocks must know. */
  marks(book: Book, interlocks: readonly InterlockId[], at: Instant): Mark[];
}

const unitOf = (book: Book, id: InterlockId): string =>
  book.signals[book.interlocks[id]?.cause.signal ?? -1]?.unit ?? '';

/** Begins with what the log's entries say; it goes on with every window that is closed. */
export const earlierNormals = (entries: Iterable<Entry>): EarlierNormals => {
  const passed = new Map<string, Passed>();
  const own: EarlierNormals = {
    take(book, window, finding) {
      if (finding.kind !== 'window' || finding.demand || finding.verdict.outcome !== 'pass') return;
      const name = book.interlocks[finding.interlock]?.name;
      const value = finding.verdict.normal;
      if (name !== undefined && value !== undefined)
        passed.set(name, { value, unit: unitOf(book, finding.interlock), window });
    },
    marks: (book, interlocks, at) =>
      interlocks.flatMap((interlock): Mark[] => {
        const found = passed.get(book.interlocks[interlock]?.name ?? '');
        if (found === undefined || found.unit !== unitOf(book, interlock)) return [];
        return [{ code: 'earlier-normal', at, interlock, value: found.value, window: found.window }];
      }),
  };
  const books = new Map<string, Book>();
  const bookOf = new Map<string, string>();
  for (const { kind, subject, body } of entries) {
    if (kind === 'book') books.set(String(body['hash']), body['book'] as unknown as Book);
    if (kind === 'window-opened') bookOf.set(subject, String(body['book']));
    const book = kind === 'verdict' ? books.get(bookOf.get(subject) ?? '') : undefined;
    if (book !== undefined) own.take(book, subject, body['finding'] as unknown as Finding);
  }
  return own;
};
