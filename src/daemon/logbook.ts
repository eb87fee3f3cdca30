import { formatUtc } from '../measure/index.ts';
import { type EntryKind, encodeAnswers, ANSWERS, plain } from '../record/index.ts';
import { type Draft, type Log, sha256 } from '../store/index.ts';
import type { Answer } from '../signal/index.ts';
import type { Clock } from './clock.ts';

/** Writes entries in the order in which they are given, in batches; `settled` waits until all of them are on the disk. */
export interface Logbook {
  enter(kind: EntryKind, subject: string, actor: string, body: unknown): void;
  /** Answers as a block and its entry. `first` is the running number of the first in the window. */
  trace(window: string, answers: readonly Answer[], first: number): void;
  settled(): Promise<void>;
  head(): { readonly size: number; readonly root: string };
  close(): Promise<void>;
}

export const createLogbook = (log: Log, clock: Clock, boot: string, onTrouble: (error: unknown) => void): Logbook => {
  let drafts: Draft[] = [];
  let blocks: Uint8Array[] = [];
  let writing: Promise<void> = Promise.resolve();
  let broken: unknown;

  const draft = (kind: EntryKind, subject: string, actor: string, body: unknown): Draft => ({
    version: 1,
    kind,
    subject,
    actor,
    utc: formatUtc(clock.now()),
    monotonic: clock.monotonic(),
    boot,
    body: plain(body) as Draft['body'],
  });

  const flush = (): Promise<void> => {
    if (drafts.length === 0) return writing;
    const batch = { entries: drafts, blocks };
    drafts = [];
    blocks = [];
    writing = writing.then(async () => {
      if (broken !== undefined) return;
      await log.append(batch).catch((error: unknown) => {
        broken = error;
        onTrouble(error);
      });
    });
    return writing;
  };

  const timer = setInterval(() => void flush(), 200);
  timer.unref();

  return {
    enter(kind, subject, actor, body) {
      drafts.push(draft(kind, subject, actor, body));
    },
    trace(window, answers, first) {
      if (answers.length === 0) return;
      const bytes = encodeAnswers(answers);
      blocks.push(bytes);
      const body = {
        encoding: ANSWERS,
        block: sha256(bytes),
        count: answers.length,
        first,
        from: formatUtc(answers[0]?.received ?? clock.now()),
        to: formatUtc(answers.at(-1)?.received ?? clock.now()),
      };
      drafts.push(draft('trace', window, 'daemon', body));
    },
    async settled() {
      await flush();
      if (broken !== undefined) throw broken;
    },
    head: () => log.head(),
    async close() {
      clearInterval(timer);
      await flush();
      await log.close();
    },
  };
};
