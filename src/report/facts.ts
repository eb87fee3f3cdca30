import type { Interval, Outcome } from '../measure/index.ts';
import { SEGMENTS, type Segment } from '../measure/index.ts';
import {
  type Book,
  type Cause,
  type Interlock,
  type Level,
  levelAt,
  type Machine,
} from '../rulebook/index.ts';
import { formatBand, formatInterval } from '../words/index.ts';
import type { InterlockReport, WindowReport } from './types.ts';

/** Levels of an interlock in the unit of its cause, as far as normal and nameplate are known. */
export interface Bands {
  readonly setPoint?: Interval;
  readonly allowed?: Interval;
  readonly clears?: Interval;
  readonly limit?: Interval;
  readonly limitSide?: 'no-lower-than' | 'no-higher-than';
  readonly normal?: Interval;
}

/** An interlock of a report with what the book says of it. */
export interface Subject {
  readonly report: InterlockReport;
  readonly interlock: Interlock;
  readonly machine?: Machine;
  /** Unit of the cause; '' for a contact. */
  readonly unit: string;
  readonly causeName: string;
  readonly nameOf: (signal: number) => string;
  readonly bands: Bands;
}

const bandsOf = (interlock: Interlock, machine: Machine | undefined, measured?: Interval): Bands => {
  const { cause, limit } = interlock;
  const normalDef = machine?.normals.find((one) => one.signal === cause.signal);
  const declared = normalDef?.from.kind === 'declared' ? normalDef.from.value : undefined;
  const normal = measured ?? declared;
  if (cause.kind !== 'level') return normal ? { normal } : {};
  const references = { normal, nameplate: normalDef?.nameplate };
  const setPoint = levelAt(cause.setPoint, references);
  const tolerance = levelAt(cause.tolerance, references);
  const clears = levelAt(cause.clears, references);
  const bound = limit && levelAt(limit.level, references);
  const half = tolerance ? tolerance.low : 0;
  return {
    ...(normal && { normal }),
    ...(setPoint && { setPoint, allowed: { low: setPoint.low - half, high: setPoint.high + half } }),
    ...(clears && { clears }),
    ...(bound && limit && { limit: bound, limitSide: limit.side }),
  };
};

/** The interlocks of a report that its book knows; one that it does not know is a fault of the caller. */
export const subjectsOf = (report: WindowReport): readonly Subject[] =>
  report.interlocks.map((one) => subjectOf(report.book, one));

const subjectOf = (book: Book, report: InterlockReport): Subject => {
  const interlock = book.interlocks[report.interlock];
  if (interlock === undefined) {
    throw new RangeError(`The report names interlock ${report.interlock}, which its book does not have.`);
  }
  const machine = book.machines[interlock.machine];
  const signal = book.signals[interlock.cause.signal];
  return {
    report,
    interlock,
    ...(machine && { machine }),
    unit: signal?.unit ?? '',
    causeName: signal?.name ?? '',
    nameOf: (id) => book.signals[id]?.name ?? '',
    bands: bandsOf(interlock, machine, report.verdict.normal),
  };
};

/** Trip point in percent of normal where it is one, else in the unit of the cause; '–' where there is none. */
export const tripText = (subject: Subject): string => {
  const { tripPercent, tripPoint } = subject.report.verdict;
  if (tripPercent) return formatInterval(tripPercent, '%');
  return tripPoint ? formatInterval(tripPoint, subject.unit) : '–';
};

export const responseText = (subject: Subject): string => {
  const { response } = subject.report.verdict;
  return response ? formatInterval(response, 's') : '–';
};

/** What nobody has proved in this window. */
export const unproved = (proved: readonly Segment[]): readonly Segment[] =>
  SEGMENTS.filter((segment) => !proved.includes(segment));

export const countOf = (report: WindowReport, outcome: Outcome): number =>
  report.interlocks.filter(({ verdict }) => verdict.outcome === outcome).length;

const secondsText = (micros: number): string =>
  formatInterval({ low: micros / 1e6, high: micros / 1e6 }, 's');

const levelText = (level: Level, unit: string): string => {
  const share = formatBand({ low: level.factor * 100, high: level.factor * 100 }, '%');
  const offset = formatBand({ low: level.offset, high: level.offset }, unit);
  if (level.of === 'absolute') return offset;
  return level.offset === 0 ? `${share} of ${level.of}` : `${level.of} + ${offset}`;
};

const GROUP = (need: number, count: number): string => {
  if (need === count) return 'all of';
  return need === 1 ? 'any of' : `${need} of`;
};

const simpleCause = (
  cause: Exclude<Cause, { kind: 'level' }>,
  nameOf: (signal: number) => string,
): string => {
  const name = nameOf(cause.signal);
  switch (cause.kind) {
    case 'contact':
      return `${name} acts`;
    case 'no-pulses':
      return `no pulses of ${name} for ${secondsText(cause.after)}`;
    case 'band':
      return `${name} is held between ${levelText(cause.near, '')} and ${levelText(cause.far, '')} for ${secondsText(cause.hold)}`;
    case 'sensor-fault':
      return `the sensor of ${name} is faulty`;
    case 'silent':
      return `no news of ${name} for ${secondsText(cause.after)}`;
    case 'stuck':
      return `${name} does not move for ${secondsText(cause.after)}`;
    case 'restart':
      return `the controller of ${name} starts again`;
    case 'group': {
      const parts = cause.of.map((one) =>
        one.kind === 'level'
          ? `${nameOf(one.signal)} ${one.side} ${levelText(one.setPoint, '')}`
          : simpleCause(one, nameOf),
      );
      return `${GROUP(cause.need, cause.of.length)} (${parts.join('; ')})`;
    }
    default:
      return cause satisfies never;
  }
};

/** How the cause is worded: `below 82 % of normal ± 1.5 %`. */
export const causeText = (subject: Subject): string => {
  const { cause } = subject.interlock;
  if (cause.kind !== 'level') return simpleCause(cause, subject.nameOf);
  const { setPoint, allowed } = subject.bands;
  const at = setPoint
    ? ` ${formatBand(setPoint, subject.unit)}`
    : ' a level that is known only with the normal';
  const share =
    cause.setPoint.of === 'absolute' || cause.setPoint.offset !== 0
      ? ''
      : ` (${formatBand({ low: cause.setPoint.factor * 100, high: cause.setPoint.factor * 100 }, '%')} of ${cause.setPoint.of})`;
  const band = allowed ? `, allowed ${formatBand(allowed, subject.unit)}` : '';
  return `${subject.causeName} is ${cause.side}${at}${share}${band}`;
};
