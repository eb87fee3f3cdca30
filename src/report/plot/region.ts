import type { WindowVerdict } from '../../judge/index.ts';
import { type Interval, SECOND } from '../../measure/index.ts';
import { formatBand, formatInterval, formatSeconds } from '../../words/index.ts';
import { byEstimate, decisionText } from '../decision-text.ts';
import type { Subject } from '../facts.ts';

export type Cell = NonNullable<WindowVerdict['region']>[number];

/** What is drawn: the pairs that are left, and what they must lie in. */
export interface Drawn {
  readonly cells: readonly Cell[];
  readonly level: Interval;
  readonly delay: Interval;
  /** Delays beyond the last cell were not looked at one by one and are possible. */
  readonly open: boolean;
  readonly frame: { readonly level: Interval; readonly delay: Interval };
  readonly limit?: Interval;
}

export const finite = (one: Interval | undefined): one is Interval =>
  one !== undefined && Number.isFinite(one.low) && Number.isFinite(one.high);

export const hull = (all: readonly Interval[]): Interval => ({
  low: Math.min(...all.map(({ low }) => low)),
  high: Math.max(...all.map(({ high }) => high)),
});

/** Undefined where the cause has no level or no delay, or where nothing was found out of them. */
export const drawnOf = ({ interlock, report, bands }: Subject): Drawn | undefined => {
  const { delay, limit } = interlock;
  const cells = (report.verdict.region ?? []).filter((cell) => finite(cell.delay) && finite(cell.level));
  const { allowed, certain } = bands;
  if (!finite(allowed) || !finite(certain)) return undefined;
  // The best estimate is held against the best estimate of each edge; an interval against the nearer side of each.
  const edges = { low: (allowed.low + certain.low) / 2, high: (allowed.high + certain.high) / 2 };
  const level = byEstimate(interlock) ? edges : certain;
  if (delay === undefined || cells.length === 0) return undefined;
  const least = Math.max(0, delay.time - delay.tolerance) / SECOND;
  return {
    cells,
    level: hull(cells.map((cell) => cell.level)),
    delay: hull(cells.map((cell) => cell.delay)),
    open: report.verdict.delay === undefined,
    frame: { level, delay: { low: least, high: (delay.time + delay.tolerance) / SECOND } },
    ...(limit?.judgedAt === 'level' && finite(bands.limit) && { limit: bands.limit }),
  };
};

const trialsText = ({ report, occasion }: Subject): string => {
  const { trials, asLeft } = report.verdict;
  if (asLeft !== undefined) return `after the ${occasion}s since the last adjustment`;
  const sure = trials.filter(({ aspects }) => aspects.every(({ name }) => name !== 'attribution')).length;
  const all = `${trials.length} ${occasion}${trials.length === 1 ? '' : 's'}`;
  return sure === trials.length || sure === 0
    ? `after ${all}`
    : `after ${sure} of ${all}; the others are in doubt`;
};

/** What the picture says, in a sentence or two. */
export const captionOf = (subject: Subject, drawn: Drawn): string => {
  const { interlock } = subject;
  const must = byEstimate(interlock)
    ? `The decision rule is ${decisionText(interlock)}.`
    : 'It must lie wholly inside the frame.';
  const open = drawn.open
    ? ` Delays longer than ${formatSeconds(Math.round(drawn.delay.high * 100) / 100)} are not excluded (arrow).`
    : '';
  return `What is left of level and delay ${trialsText(subject)}. ${must}${open}`;
};

/** The same for those who cannot see it. */
export const described = (subject: Subject, drawn: Drawn): string => {
  const { unit } = subject;
  const limit = drawn.limit === undefined ? '' : ` Limit: ${formatBand(drawn.limit, unit)}.`;
  const longer = drawn.open ? ' and longer' : '';
  return `Level up, delay across. What is left: levels ${formatInterval(drawn.level, unit)}, delays ${formatInterval(drawn.delay, 's')}${longer}. Frame: levels ${formatBand(drawn.frame.level, unit)}, delays ${formatBand(drawn.frame.delay, 's')}.${limit}`;
};
