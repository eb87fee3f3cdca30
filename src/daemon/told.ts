import type { Finding } from '../judge/index.ts';
import type { Reason } from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import { text } from '../words/index.ts';

const WORDS = {
  pass: 'PASS',
  fail: 'FAIL',
  inconclusive: 'INCONCLUSIVE',
  'not-tested': 'NOT TESTED',
} as const;

/** What it waits for comes first; the rest is told once that is done. */
const waitsText = (sentences: readonly string[]): string => {
  const rest = sentences.length - 2;
  return [...sentences.slice(0, 2), ...(rest > 0 ? [`(${rest} more)`] : [])].join(' ');
};

/** A finding as a sentence or two. */
export const findingText = (book: Book, finding: Finding): string => {
  const unit = unitOf(book, finding);
  const say = (reason: Reason): string => text(reason, { unit });
  switch (finding.kind) {
    case 'waits':
      return finding.reasons.length === 0 ? 'ready' : waitsText(finding.reasons.map(say));
    case 'event':
      return say(finding.reason);
    case 'trial':
      return `${finding.demand ? 'demand' : 'trial'} ${finding.trial}: ${WORDS[finding.verdict.outcome]}. ${say(finding.verdict.reasons[0])}`;
    case 'window':
      return `${WORDS[finding.verdict.outcome]}. ${say(finding.verdict.reasons[0])}`;
    case 'contradiction':
      return finding.dangerous ? `DANGEROUS: ${say(finding.reason)}` : say(finding.reason);
    default:
      return finding satisfies never;
  }
};

/** What a window is about: its interlocks and their machines, and when it began. Of a demand, everything that acts. */
export interface Subject {
  readonly demand: boolean;
  readonly opened: number;
  readonly interlocks: ReadonlySet<number>;
  readonly machines: ReadonlySet<number>;
}

/** Neither about what is under test nor dangerous. What came before a window was opened is not about it. */
export const isAside = (finding: Finding, subject: Subject): boolean => {
  if (finding.kind === 'contradiction') {
    const own = subject.interlocks.has(finding.interlock) || subject.machines.has(finding.machine);
    return !finding.dangerous && !subject.demand && !own;
  }
  if (subject.demand) return finding.kind === 'waits' || (finding.kind === 'event' && finding.trial === 0);
  return finding.demand === true || finding.at < subject.opened;
};

const unitOf = (book: Book, finding: Finding): string => {
  const cause = book.interlocks[finding.interlock]?.cause.signal;
  return cause === undefined ? '' : (book.signals[cause]?.unit ?? '');
};
