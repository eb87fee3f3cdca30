import type { Instant, Phrase, Reason } from '../../measure/index.ts';
import type { RegisterLife } from '../../record/index.ts';
import { driftReasons } from './drift-reasons.ts';
import { endOf } from './past-evidence.ts';
import { type Known, type Proof, proofOf } from './proofs.ts';

/** What has to be done about an interlock, the most urgent first. */
export const URGENCIES = [
  'failed',
  'bypassed',
  'impaired',
  'never',
  'inconclusive',
  'stale',
  'overdue',
  'grace',
  'deferred',
  'soon',
  'in-time',
  'no-interval',
] as const;
export type Urgency = (typeof URGENCIES)[number];

export interface DueRow {
  readonly interlock: string;
  readonly machine: string;
  readonly title: string;
  readonly urgency: Urgency;
  /** When it is due; undefined: never proved, or without an interval. */
  readonly due?: Instant;
  /** Whole days after that, negative before it. */
  readonly late?: number;
  /** The last test that passed. */
  readonly passed?: { readonly window: string; readonly at: Instant; readonly method: string };
  readonly reasons: readonly Phrase[];
  /** Open deferrals, impairments, punch items and bypasses. */
  readonly items: readonly RegisterLife[];
}

/** What is due, of every interlock of the book in force, the most urgent first. */
export interface DueList {
  readonly log: string;
  readonly site: string;
  readonly title: string;
  readonly on: Instant;
  readonly rows: readonly DueRow[];
}

const DAY = 86_400_000_000;
/** So long before it is due a proof is told as due soon. Common practice, no source. */
const SOON = 30 * DAY;

const urgencyOf = (proof: Proof, on: Instant): Urgency => {
  const { beneath, dates, standing, open } = proof;
  if (beneath === 'failed') return 'failed';
  if (standing === 'bypassed') return 'bypassed';
  if (open.some(({ item }) => item === 'impairment')) return 'impaired';
  if (beneath !== 'proved') return beneath;
  if (dates === undefined) return 'no-interval';
  if (on > dates.grace) return 'deferred';
  if (on > dates.due) return 'grace';
  return on > dates.due - SOON ? 'soon' : 'in-time';
};

const rowOf = (proof: Proof, on: Instant, drift: readonly Reason[]): DueRow => {
  const { interlock, machine, title, pass, dates } = proof;
  return {
    interlock,
    machine,
    title,
    urgency: urgencyOf(proof, on),
    ...(dates && { due: dates.due, late: Math.floor((on - dates.due) / DAY) }),
    ...(pass && {
      passed: { window: pass.window.id, at: endOf(pass.window), method: pass.past.method },
    }),
    reasons: [...proof.reasons, ...drift],
    items: proof.open,
  };
};

export const dueList = (known: Known): DueList => {
  const { book, history, on } = known;
  const rows = book.interlocks.map((interlock) =>
    rowOf(proofOf(known, interlock), on, driftReasons(known, interlock)),
  );
  const rank = ({ urgency }: DueRow): number => URGENCIES.indexOf(urgency);
  const dueOf = ({ due }: DueRow): number => due ?? Number.NEGATIVE_INFINITY;
  return {
    log: history.log,
    site: book.site,
    title: book.title,
    on,
    rows: rows.sort((a, b) => rank(a) - rank(b) || dueOf(a) - dueOf(b)),
  };
};
