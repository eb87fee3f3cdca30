import type { Finding } from '../judge/index.ts';
import { type Micros, type Reading, SECOND } from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import type { Answer } from '../signal/index.ts';
import { createPipeline, type Pipeline } from './pipeline.ts';

/** What the daemon must do about what is going on outside of test windows. */
export interface WatchHands {
  /** A real trip begins: what follows, and what came before, is to be kept. */
  readonly demand: () => void;
  readonly contradiction: (finding: Finding & { kind: 'contradiction' }) => void;
  /** A signal was worked out anew from others. */
  readonly derived: (row: Reading) => void;
}

/** Judges all that is read, always, with no window: sees demands begin, and contradictions. */
export interface Watch {
  answer(answer: Answer): void;
  known: Pipeline['known'];
}

export const createWatch = (book: Book, hands: WatchHands): Watch => {
  const derives = book.signals.some(({ address }) => address.kind === 'derived');
  const pipeline = createPipeline(book, derives ? { derived: hands.derived } : {});
  return {
    known: () => pipeline.known(),
    answer(answer) {
      for (const finding of pipeline.answer(answer)) {
        if (finding.kind === 'contradiction') hands.contradiction(finding);
        if (finding.kind === 'event' && finding.reason.code === 'trial-began') hands.demand();
      }
    },
  };
};

/** Answers to keep before a window opens, so that armed states, baselines and histories of derived signals reach back. */
export const reachOf = (book: Book): Micros => {
  const inhibits = book.interlocks.map(({ armed, baseline }) => armed.after + baseline);
  const spans = book.signals.flatMap(({ address }) =>
    address.kind === 'derived' && address.from.as === 'rate' ? [address.from.over] : [],
  );
  return Math.max(30 * SECOND, Math.max(...inhibits, 0) + Math.max(...spans, 0) + 15 * SECOND);
};
