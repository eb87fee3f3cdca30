import type { Phrase } from '../measure/index.ts';
import type { Interlock } from '../rulebook/index.ts';
import { formatNumber, text } from '../words/index.ts';
import { part } from './phrases.ts';

export const decisionPhrase = ({ decision }: Interlock): Phrase => {
  if (decision?.rule === 'guard-band') return part('decision-guard-band', { r: decision.r });
  return part(decision?.rule === 'simple' ? 'decision-simple' : 'decision-bounds');
};

/** The name of a decision rule: `guard band, r = 1`. */
export const decisionName = (interlock: Interlock): string => text(decisionPhrase(interlock));

/** The decision rule of an interlock and what it means, as JCGM 106 and ILAC-G8 call it. */
export const decisionText = (interlock: Interlock): string => {
  const { decision } = interlock;
  const name = decisionName(interlock);
  switch (decision?.rule) {
    case 'guard-band':
      return `${name}: the best estimate decides, against limits drawn in by ${formatNumber(decision.r)} × U for a pass and moved out by as much for a fail`;
    case 'simple':
      return `${name}: the best estimate decides, against the limits themselves`;
    default:
      return `${name}: pass only where the whole interval is inside`;
  }
};

/** The best estimate decides, not the whole interval. */
export const byEstimate = ({ decision }: Interlock): boolean =>
  decision !== undefined && decision.rule !== 'bounds';
