import type { Meaning, Signed } from '../record/index.ts';

const MEANINGS: Readonly<Record<Meaning, string>> = {
  performed: 'performed the test',
  witnessed: 'witnessed the test',
  reviewed: 'reviewed the record',
};

/** What a signature says (21 CFR 11.50(a)(3)). */
export const meaningText = (meaning: Meaning): string => MEANINGS[meaning];

const KINDS: Readonly<Record<string, string>> = {
  amendment: 'correction',
  transcribed: 'transcribed sheet',
  mark: 'mark',
  finding: 'finding',
  verdict: 'verdict',
  trace: 'block of readings',
};

const counted = (kind: string, count: number): string => {
  const word = KINDS[kind] ?? `"${kind}" entry`;
  return `${count} ${word}${count === 1 ? '' : 's'}`;
};

/** What a signature is worth now, by shape and word. */
export const signatureStateText = ({ state, since }: Signed): string => {
  switch (state) {
    case 'whole':
      return '✔ covers all of this window';
    case 'since':
      return `△ entered since, and not covered: ${Object.entries(since)
        .map(([kind, count]) => counted(kind, count ?? 0))
        .join(', ')}`;
    case 'differs':
      return '✖ DOES NOT MATCH what stands in the log';
    case 'unreadable':
      return '✖ is no signature';
    default:
      return state satisfies never;
  }
};

const ATTESTED: Readonly<Record<string, string>> = {
  'horn-heard': 'horn heard',
  'motion-stopped': 'motion seen stopped',
  'feed-stopped': 'feed seen stopped',
  'no-stop-pressed': 'no stop pressed',
};

export const attestedText = (what: string): string => ATTESTED[what] ?? what;
