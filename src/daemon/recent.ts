import type { Micros } from '../measure/index.ts';
import type { Answer } from '../signal/index.ts';

/** Answers kept for a window that may be opened. */
export interface Recent {
  take(answer: Answer): void;
  /** Those since `from`, behind what was granted and what clocks have shown before: it still stands. */
  since(from: number): readonly Answer[];
}

/** Exchanges with a clock that are remembered; as many as are reckoned with. */
const CLOCKS = 8;

type Standing = Answer & { readonly kind: 'terms' | 'clock' };

/** What of a source's past still stands: its newest terms, its newest exchanges. */
const stands = (past: readonly Standing[], newest: Standing): readonly Standing[] => {
  const terms = [...past, newest].filter(({ kind }) => kind === 'terms').slice(-1);
  const clocks = [...past, newest].filter(({ kind }) => kind === 'clock').slice(-CLOCKS);
  return [...terms, ...clocks];
};

/** `reach`: how far back somebody may ask. */
export const createRecent = (reach: Micros): Recent => {
  let answers: Answer[] = [];
  let first = 0;
  const standing = new Map<number, readonly Standing[]>();
  return {
    take(answer) {
      answers.push(answer);
      if (answer.kind === 'terms' || answer.kind === 'clock')
        standing.set(answer.source, stands(standing.get(answer.source) ?? [], answer));
      while ((answers[first]?.received ?? answer.received) < answer.received - reach) first += 1;
      if (first < 1_024 || first < answers.length / 2) return;
      answers = answers.slice(first);
      first = 0;
    },
    since(from) {
      const before = [...standing.values()].flat().filter(({ received }) => received < from);
      const own = answers.slice(first).filter(({ received }) => received >= from);
      return [...before.sort((a, b) => a.received - b.received), ...own];
    },
  };
};
