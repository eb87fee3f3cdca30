import { TERMS } from '../words/index.ts';
import type { Subject } from './facts.ts';
import type { WindowReport } from './types.ts';

/** `2026-03-14 09:21 UTC`. */
const day = (utc: string): string => `${utc.slice(0, 10)} ${utc.slice(11, 16)} UTC`;

/**
 * Where an interlock failed as it was found: since when it may have been absent. Undefined where it did not, and where nobody
 * looked for an earlier pass.
 */
export const absentText = (report: WindowReport, { report: own, interlock }: Subject): string | undefined => {
  const { asFound, outcome } = own.verdict;
  const failed = report.demand ? outcome === 'fail' : asFound === 'fail';
  const last = report.lastPass?.[interlock.name];
  if (!failed || last === undefined) return undefined;
  if (last === null)
    return 'There is no earlier pass of it in this log: nothing shows that this protection was ever there.';
  const { window, utc, proved = [] } = last;
  const parts = proved.map((segment) => TERMS.segments[segment]).join(', ');
  return `Its last pass was in window ${window}, ${day(utc)}${parts === '' ? '' : `, and proved ${parts}`}: since then this protection may have been absent.`;
};
