import type { Urgency } from './due.ts';
import type { CellState } from './matrix.ts';

/** How an interlock or a cell stands, by shape and word together, never by colour alone. */
export const STANDING_MARKS: Readonly<Record<CellState, readonly [shape: string, word: string]>> = {
  bypassed: ['⊘', 'BYPASSED'],
  failed: ['✖', 'FAILED'],
  never: ['○', 'NEVER'],
  inconclusive: ['?', 'INCONCLUSIVE'],
  stale: ['≠', 'STALE'],
  overdue: ['!', 'OVERDUE'],
  proved: ['✔', 'PROVED'],
  'cross-trip': ['✱', 'CROSS-TRIP'],
  quiet: ['·', 'QUIET'],
  unwatched: [' ', 'NOT WATCHED'],
};

export const URGENCY_MARKS: Readonly<Record<Urgency, readonly [shape: string, word: string]>> = {
  failed: STANDING_MARKS.failed,
  bypassed: STANDING_MARKS.bypassed,
  impaired: ['⊘', 'IMPAIRED'],
  never: STANDING_MARKS.never,
  inconclusive: STANDING_MARKS.inconclusive,
  stale: STANDING_MARKS.stale,
  overdue: STANDING_MARKS.overdue,
  grace: ['▸', 'IN GRACE'],
  deferred: ['▹', 'DEFERRED'],
  soon: ['◔', 'DUE SOON'],
  'in-time': STANDING_MARKS.proved,
  'no-interval': ['–', 'NO INTERVAL'],
};

export const markText = ([shape, word]: readonly [string, string]): string => `${shape} ${word}`;
