import type { Outcome } from '../measure/index.ts';
import { TERMS } from '../words/index.ts';

/** A verdict is told by shape, word and colour together, never by colour alone. */
export const SHAPES: Readonly<Record<Outcome, string>> = {
  pass: '✔',
  fail: '✖',
  inconclusive: '?',
  'not-tested': '○',
};

/** `✔ PASS`, `✖ FAIL`, `? INCONCLUSIVE`, `○ NOT TESTED`. */
export const markOf = (outcome: Outcome): string => `${SHAPES[outcome]} ${TERMS.outcomes[outcome]}`;
