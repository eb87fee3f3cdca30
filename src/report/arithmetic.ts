import { type Interval, SECOND } from '../measure/index.ts';
import { formatBand, formatInterval, formatNumber, unitShown } from '../words/index.ts';
import { byEstimate } from './decision-text.ts';
import type { Subject } from './facts.ts';
import { isShare } from './levels.ts';
import type { WindowReport } from './types.ts';

const known = (one: Interval | undefined): one is Interval =>
  one !== undefined && Number.isFinite(one.low) && Number.isFinite(one.high);

const against = (measured: Interval, allowed: Interval): string => {
  if (allowed.low <= measured.low && measured.high <= allowed.high) return 'wholly inside';
  if (measured.high < allowed.low || measured.low > allowed.high) return 'wholly outside';
  return 'across an edge: not decided';
};

const tripLines = (subject: Subject): string[] => {
  const { tripPoint, tripPercent, normal } = subject.report.verdict;
  const { allowed } = subject.bands;
  const { unit } = subject;
  if (!known(tripPoint)) return [];
  const share =
    known(tripPercent) && known(normal)
      ? [
          `Trip point ${formatInterval(tripPoint, unit)} ÷ normal ${formatInterval(normal, unit)} = ${formatInterval(tripPercent, '%')} (lowest ÷ highest … highest ÷ lowest).`,
        ]
      : [];
  const { cause } = subject.interlock;
  const percent = isShare(subject.interlock);
  const shown = percent && known(tripPercent) ? tripPercent : tripPoint;
  const factor = cause.kind === 'level' ? cause.setPoint.factor * 100 : 0;
  const half = cause.kind === 'level' ? cause.tolerance.factor * 100 : 0;
  const band = percent && known(tripPercent) ? { low: factor - half, high: factor + half } : allowed;
  if (!known(band)) return share;
  const shownUnit = shown === tripPercent ? '%' : unit;
  if (byEstimate(subject.interlock)) {
    const estimate = (shown.low + shown.high) / 2;
    return [
      ...share,
      `Best estimate of the trip point ${formatNumber(Math.round(estimate * 1e4) / 1e4)} ${unitShown(shownUnit)}, against ${formatBand(band, shownUnit)} by the decision rule.`,
    ];
  }
  return [
    ...share,
    `Trip point ${formatInterval(shown, shownUnit)} against ${formatBand(band, shownUnit)}: ${against(shown, band)}.`,
  ];
};

/** From the bounds of the change and of the response back to when the cause reached its set point. */
const effectLine = (report: WindowReport, subject: Subject, name: string): string[] => {
  const seen = subject.report.verdict.effects.find((one) => one.name === name);
  if (seen?.changed === undefined || !known(seen.response)) return [];
  const after = (seen.changed.earliest - report.opened) / SECOND;
  const by = (seen.changed.latest - report.opened) / SECOND;
  const changed = `${name} changed after ${after.toFixed(3)} s and by ${by.toFixed(3)} s`;
  const { low, high } = seen.response;
  const result = `response ${formatInterval(seen.response, 's')}`;
  if (low <= 0) return [`${changed}; ${result}.`];
  const reachedBy = (after - low).toFixed(3);
  const reachedAfter = (by - high).toFixed(3);
  return [
    `${changed}; the cause reached its set point after ${reachedAfter} s and by ${reachedBy} s: ${after.toFixed(3)} − ${reachedBy} … ${by.toFixed(3)} − ${reachedAfter} = ${result}.`,
  ];
};

/** The sums behind the figures of an interlock, a sentence each. Seconds count from the opening of the window. */
export const arithmetic = (report: WindowReport, subject: Subject): readonly string[] => [
  ...tripLines(subject),
  ...subject.interlock.effects.flatMap(({ name }) => effectLine(report, subject, name)),
];
