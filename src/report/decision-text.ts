import type { Interlock } from '../rulebook/index.ts';
import { formatNumber } from '../words/index.ts';

/** The decision rule of an interlock, as JCGM 106 and ILAC-G8 call it. */
export const decisionText = ({ decision }: Interlock): string => {
  switch (decision?.rule) {
    case 'guard-band':
      return `guard band, r = ${formatNumber(decision.r)}: the best estimate decides, against limits drawn in by ${formatNumber(decision.r)} × U for a pass and moved out by as much for a fail`;
    case 'simple':
      return 'simple acceptance: the best estimate decides, against the limits themselves';
    default:
      return 'bounds: pass only where the whole interval is inside';
  }
};

/** The best estimate decides, not the whole interval. */
export const byEstimate = ({ decision }: Interlock): boolean =>
  decision !== undefined && decision.rule !== 'bounds';
