import { formatUtc } from '../measure/index.ts';
import { ANSWERS, type EntryKind, encodeAnswers, plain } from '../record/index.ts';
import type { Answer } from '../signal/index.ts';
import { type Batch, type Draft, type Head, type Log, sha256 } from '../store/index.ts';
import type { Clock } from './clock.ts';

/** Writes entries in the order in which they are given, in batches; `settled` waits until all of them are on the disk. */
export interface Logbook {
  /** Returns the number that the entry gets. */
  enter(kind: EntryKind, subject: string, actor: string, body: unknown): number;
  /** Answers as a block and its entry. `first` is the running number of the first in the window. */
  trace(window: string, answers: readonly Answer[], first: number): void;
  /** Called before each batch: whoever holds answers back enters them, so that no finding is stored without its cause. */
  before(prepare: () => void): void;
  settled(): Promise<void>;
  head(): Head;
  /** UTC of the entry that was given last. */
  newest(): string;
  /** How many entries about this subject were given so far, in this run. */
  count(subject: string): number;
  close(): Promise<void>;
}

const EVERY_MS = 200;
/**
 * Answers alone wait for so many turns, two seconds: longer blocks are smaller, and so is the log. A crash costs them of a
 * window that it interrupts anyway; with the next finding or mark all answers before it are entered.
 */
const ANSWERS_WAIT = 10;
/** Checkpoints up to the next seal. */
const SEAL_EVERY = 64;

/** `onTrouble` is called once, when the log cannot be written any more; nothing is written after that. */
export const createLogbook = (
  log: Log,
  clock: Clock,
  boot: string,
  onTrouble: (error: unknown) => void,
): Logbook => {
  let drafts: Draft[] = [];
  let blocks: Uint8Array[] = [];
  let next = log.head().size;
  let writing: Promise<void> = Promise.resolve();
  let broken: unknown;
  const counts = new Map<string, number>();
  let [turns, batches] = [0, 0];
  let newest = '';
  let prepare = (): void => undefined;

  const enter = (kind: EntryKind, subject: string, actor: string, body: unknown): number => {
    newest = formatUtc(clock.now());
    drafts.push({
      version: 1,
      kind,
      subject,
      actor,
      utc: newest,
      monotonic: clock.monotonic(),
      boot,
      body: plain(body) as Draft['body'],
    });
    counts.set(subject, (counts.get(subject) ?? 0) + 1);
    next += 1;
    return next - 1;
  };

  const write = async (batch: Batch): Promise<void> => {
    if (broken !== undefined) return;
    try {
      await log.append(batch);
    } catch (error) {
      broken = error;
      onTrouble(error);
    }
  };

  const flush = (): Promise<void> => {
    prepare();
    if (drafts.length === 0) return writing;
    batches += 1;
    const batch = { entries: drafts, blocks, seal: batches % SEAL_EVERY === 0 };
    // The seal is an entry too, behind those of the batch.
    if (batch.seal) next += 1;
    drafts = [];
    blocks = [];
    writing = writing.then(() => write(batch));
    return writing;
  };

  const timer = setInterval(() => {
    turns += 1;
    if (drafts.length > 0 || turns % ANSWERS_WAIT === 0) void flush();
  }, EVERY_MS);

  return {
    enter,
    trace(window, answers, first) {
      if (answers.length === 0) return;
      const bytes = encodeAnswers(answers);
      blocks.push(bytes);
      enter('trace', window, 'daemon', {
        encoding: ANSWERS,
        block: sha256(bytes),
        count: answers.length,
        first,
        from: formatUtc(answers[0]?.received ?? clock.now()),
        to: formatUtc(answers.at(-1)?.received ?? clock.now()),
      });
    },
    before(hook) {
      prepare = hook;
    },
    async settled() {
      await flush();
      if (broken !== undefined) throw broken;
    },
    newest: () => newest,
    count: (subject) => counts.get(subject) ?? 0,
    head: () => log.head(),
    async close() {
      clearInterval(timer);
      await flush();
      await log.close();
    },
  };
};
