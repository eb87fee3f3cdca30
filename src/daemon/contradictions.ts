import type { ContradictionNow } from '../api/index.ts';
import type { Finding } from '../judge/index.ts';
import { formatUtc, SECOND } from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import { findingText } from './told.ts';

/** The newest contradictions of this run, whether a window was open or not. */
export interface Contradictions {
  /** Keeps it; undefined where it is kept already: two pipelines that see the same answers find the same. */
  take(finding: Finding & { kind: 'contradiction' }, window: string): ContradictionNow | undefined;
  /** Newest first. */
  newest(): readonly ContradictionNow[];
}

const KEPT = 20;
const SAME = SECOND;

export const createContradictions = (book: Book): Contradictions => {
  let kept: { readonly key: string; readonly at: number; readonly told: ContradictionNow }[] = [];
  let number = 0;
  return {
    take(finding, window) {
      const { at, reason, dangerous } = finding;
      const key = JSON.stringify([finding.machine, finding.interlock, reason]);
      if (kept.some((one) => one.key === key && Math.abs(one.at - at) <= SAME)) return undefined;
      number += 1;
      const told: ContradictionNow = {
        number,
        utc: formatUtc(at),
        machine: book.machines[finding.machine]?.name ?? '',
        interlock: book.interlocks[finding.interlock]?.name ?? '',
        dangerous,
        reason,
        text: findingText(book, finding),
        window,
      };
      kept = [{ key, at, told }, ...kept].slice(0, KEPT);
      return told;
    },
    newest: () => kept.map(({ told }) => told),
  };
};
