import { type Instant, SECOND } from '../measure/index.ts';
import type { Answer } from '../signal/index.ts';

/** How far an opened window reaches back: the longest start-up inhibit and baseline lie within it. */
const REACH = 60 * SECOND;

/** The answers of the last minute, whether a window is open or not. */
export interface Ring {
  push(answer: Answer): void;
  since(now: Instant): readonly Answer[];
}

export const createRing = (): Ring => {
  let kept: Answer[] = [];
  let start = 0;
  const trim = (now: Instant): void => {
    while (start < kept.length && (kept[start]?.received ?? now) < now - REACH) start += 1;
    if (start < 1_024) return;
    kept = kept.slice(start);
    start = 0;
  };
  return {
    push(answer) {
      kept.push(answer);
      trim(answer.received);
    },
    since(now) {
      trim(now);
      return kept.slice(start);
    },
  };
};
