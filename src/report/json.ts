import type { Interval } from '../measure/index.ts';
import { text } from '../words/index.ts';
import { absentText } from './absent.ts';
import { responseText, subjectsOf, tripText } from './facts.ts';
import { contradictionsTold } from './page/contradictions.ts';
import type { WindowReport } from './types.ts';

/** One interlock as scripts want it; intervals in `unit` and in seconds. */
export interface InterlockSummary {
  readonly interlock: string;
  readonly verdict: string;
  readonly reasons: readonly { readonly code: string; readonly text: string }[];
  /** Where it failed, or failed as found: since when the protection may have been absent. */
  readonly absent?: string;
  readonly trial: number;
  readonly unit: string;
  readonly tripPoint?: Interval;
  readonly tripPercent?: Interval;
  readonly response?: Interval;
  readonly delay?: Interval;
  readonly proved: readonly string[];
  readonly shown: { readonly tripPoint: string; readonly response: string };
}

/** The verdicts of a window as plain JSON, in the order of the report; the same report gives the same bytes. */
export const reportJson = (report: WindowReport): string => {
  const interlocks = subjectsOf(report).map((subject): InterlockSummary => {
    const { verdict } = subject.report;
    const absent = absentText(report, subject);
    return {
      interlock: subject.interlock.name,
      verdict: verdict.outcome,
      reasons: verdict.reasons.map((reason) => ({
        code: reason.code,
        text: text(reason, { unit: subject.unit }),
      })),
      ...(absent !== undefined && { absent }),
      trial: verdict.trial,
      unit: subject.unit,
      ...(verdict.tripPoint && { tripPoint: verdict.tripPoint }),
      ...(verdict.tripPercent && { tripPercent: verdict.tripPercent }),
      ...(verdict.response && { response: verdict.response }),
      ...(verdict.delay && { delay: verdict.delay }),
      proved: verdict.proved,
      shown: { tripPoint: tripText(subject), response: responseText(subject) },
    };
  });
  const { window, standing, bookHash, engine, toolVersion } = report;
  const contradictions = contradictionsTold(report).map(({ dangerous, time, sentence }) => ({
    time,
    dangerous,
    text: sentence,
  }));
  const told = {
    window,
    standing,
    ...(report.demand && { demand: true }),
    bookHash,
    engine,
    toolVersion,
    interlocks,
    ...(report.papers && { papers: report.papers }),
    ...(contradictions.length > 0 && { contradictions }),
  };
  return `${JSON.stringify(told, null, 2)}\n`;
};
