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

/** A finding as a sentence or two. */
export const findingText = (book: Book, finding: Finding): string => {
  const unit = unitOf(book, finding);
  const say = (reason: Reason): string => text(reason, { unit });
  switch (finding.kind) {
    case 'waits':
      return finding.reasons.length === 0 ? 'ready' : `waits: ${finding.reasons.map(say).join(' ')}`;
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

const unitOf = (book: Book, finding: Finding): string => {
  const cause = book.interlocks[finding.interlock]?.cause.signal;
  return cause === undefined ? '' : (book.signals[cause]?.unit ?? '');
};
