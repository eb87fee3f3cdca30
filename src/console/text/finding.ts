import type { FindingTold } from '../../api/index.ts';
import type { Reason } from '../../measure/index.ts';
import { interlockNamed, signalNamed } from '../state/book.ts';
import { outcomeText, say, sentence } from './say.ts';

/** So many of what it waits for are told; the rest is told once that is done. */
const MOST_WAITS = 2;

/** A finding as a sentence or two. */
export const findingText = ({ interlock, finding }: FindingTold): string => {
  const unit = signalNamed(interlockNamed(interlock)?.cause ?? '')?.unit ?? '';
  const told = (reason: Reason): string => sentence(reason, unit);
  switch (finding.kind) {
    case 'waits': {
      if (finding.reasons.length === 0) return say('now', 'ready');
      const rest = finding.reasons.length - MOST_WAITS;
      const more = rest > 0 ? [say('walk', 'finding-more', { n: rest })] : [];
      return [...finding.reasons.slice(0, MOST_WAITS).map(told), ...more].join(' ');
    }
    case 'event':
      return told(finding.reason);
    case 'trial':
      return say('walk', finding.demand === true ? 'finding-demand' : 'finding-trial', {
        n: finding.trial,
        outcome: outcomeText(finding.verdict.outcome),
        why: told(finding.verdict.reasons[0]),
      });
    case 'window':
      return `${outcomeText(finding.verdict.outcome)}. ${told(finding.verdict.reasons[0])}`;
    case 'contradiction':
      return finding.dangerous
        ? `${say('shell', 'danger-title')}: ${told(finding.reason)}`
        : told(finding.reason);
    default:
      return finding satisfies never;
  }
};
