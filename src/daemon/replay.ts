import { ENGINE, type Finding, type Mark } from '../judge/index.ts';
import { type Reading, readingAt } from '../measure/index.ts';
import { canonicalText, decodeAnswers, type Entry, type LogSource, plain } from '../record/index.ts';
import type { Book } from '../rulebook/index.ts';
import type { Answer } from '../signal/index.ts';
import { createPipeline, type Observer, type Pipeline } from './pipeline.ts';

/** Everything that the log keeps of one window. */
export interface StoredWindow {
  readonly id: string;
  /** All entries about it, in their order, also those that came after its end. */
  readonly entries: readonly Entry[];
  readonly opened: Entry;
  readonly closed?: Entry;
  readonly interrupted?: Entry;
  readonly book: Book;
  readonly bookHash: string;
  readonly answers: readonly Answer[];
  readonly marks: readonly { readonly mark: Mark; readonly position: number; readonly entry: number }[];
  /** Findings and verdicts as entered, in their order. */
  readonly findings: readonly Finding[];
  /** Entries whose answers could not be read. */
  readonly unreadable: readonly number[];
}

const bookOf = (entries: readonly Entry[], hash: unknown): Book | undefined =>
  entries.find((entry) => entry.kind === 'book' && entry.body['hash'] === hash)?.body['book'] as unknown as
    | Book
    | undefined;

const answersOf = (
  source: LogSource,
  traces: readonly Entry[],
): { answers: Answer[]; unreadable: number[] } => {
  const answers: Answer[] = [];
  const unreadable: number[] = [];
  for (const entry of traces) {
    const bytes = source.block(String(entry.body['block']));
    const decoded = bytes && decodeAnswers(bytes);
    if (decoded === undefined) unreadable.push(entry.seq);
    else for (const answer of decoded) answers.push(answer);
  }
  return { answers, unreadable };
};

const isOpening = (entry: Entry): boolean => entry.kind === 'window-opened';

/** Names of the windows of a log, oldest first. */
export const windowNames = (entries: readonly Entry[]): string[] =>
  entries.filter(isOpening).map((entry) => entry.subject);

/** One window of a log; undefined where there is none of that name, or its book is not in the log. */
export const storedWindow = (
  source: LogSource,
  entries: readonly Entry[],
  id: string,
): StoredWindow | undefined => {
  const own = entries.filter((entry) => entry.subject === id);
  const of = (...kinds: Entry['kind'][]): Entry[] => own.filter((entry) => kinds.includes(entry.kind));
  const opened = own.find(isOpening);
  const bookHash = String(opened?.body['book']);
  const book = bookOf(entries, bookHash);
  if (opened === undefined || book === undefined) return undefined;
  const [closed] = of('window-closed');
  const [interrupted] = of('window-interrupted');
  return {
    id,
    entries: own,
    opened,
    ...(closed && { closed }),
    ...(interrupted && { interrupted }),
    book,
    bookHash,
    ...answersOf(source, of('trace')),
    marks: of('mark').map((entry) => ({
      mark: entry.body['mark'] as unknown as Mark,
      position: Number(entry.body['position']),
      entry: entry.seq,
    })),
    findings: of('finding', 'verdict').map((entry) => entry.body['finding'] as unknown as Finding),
  };
};

/** Judges a stored window again, from its answers and marks. */
export const judgeAgain = (stored: StoredWindow, observer: Observer = {}): Finding[] =>
  playInto(createPipeline(stored.book, observer, { fromOpening: true }), stored);

/**
 * The readings of a stored window that are wanted, by signal and latest instant, without judging it anew where none of its
 * signals is worked out while judging. An object is made only of what is wanted: mostly that is a small part.
 */
export const readAgain = (
  stored: StoredWindow,
  wants: (signal: number, latest: number) => boolean,
  keep: (row: Reading) => void,
): void => {
  const unjudged = stored.book.signals.every(({ address }) => address.kind !== 'derived');
  const observer: Observer = {
    read(part) {
      for (let index = 0; index < part.length; index += 1) {
        if (!wants(part.signal[index] ?? 0, part.latest[index] ?? 0)) continue;
        const row = readingAt(part, index);
        if (row !== undefined) keep(row);
      }
    },
    derived(row) {
      if (wants(row.signal, row.at.latest)) keep(row);
    },
  };
  playInto(createPipeline(stored.book, observer, { fromOpening: true, unjudged }), stored);
};

/** Feeds a pipeline with all that stands of a window, as it was fed then. */
export const playInto = (pipeline: Pipeline, stored: StoredWindow): Finding[] => {
  const findings: Finding[] = [];
  const marks = [...stored.marks];
  const takeMarks = (position: number): void => {
    while (marks[0] !== undefined && marks[0].position <= position) {
      const next = marks.shift();
      if (next) findings.push(...pipeline.mark(next.mark));
    }
  };
  stored.answers.forEach((answer, index) => {
    takeMarks(index);
    findings.push(...pipeline.answer(answer));
  });
  takeMarks(stored.answers.length);
  return findings;
};

export interface Recheck {
  readonly window: string;
  readonly same: boolean;
  /** Findings compared; where they part, what was entered and what comes out now. */
  readonly findings: number;
  readonly difference?: { readonly index: number; readonly entered: string; readonly again: string };
  readonly engine: { readonly entered: number; readonly now: number };
  readonly unreadable: readonly number[];
}

/** Compares as canonical text. Of an interrupted window the entered findings must be a beginning of today's. */
export const recheckWindow = (stored: StoredWindow): Recheck => {
  const again = judgeAgain(stored).map((finding) => canonicalText(plain(finding)));
  const entered = stored.findings.map((finding) => canonicalText(finding));
  const length = stored.closed === undefined ? entered.length : Math.max(entered.length, again.length);
  let index = 0;
  while (index < length && entered[index] === again[index]) index += 1;
  const same = index >= length && stored.unreadable.length === 0;
  const difference = { index, entered: entered[index] ?? '', again: again[index] ?? '' };
  return {
    window: stored.id,
    same,
    findings: entered.length,
    ...(index < length && { difference }),
    engine: { entered: Number(stored.opened.body['engine']), now: ENGINE },
    unreadable: stored.unreadable,
  };
};
