import { type Outcome, SEGMENTS, type Segment } from '../measure/index.ts';
import type { Book, Interlock, InterlockId, Machine } from '../rulebook/index.ts';
import { formatInterval } from '../words/index.ts';
import { type Bands, bandsOf, referencesOf } from './levels.ts';
import type { InterlockReport, WindowReport } from './types.ts';

/** An interlock of a report with what the book says of it. */
export interface Subject {
  readonly report: InterlockReport;
  readonly interlock: Interlock;
  readonly machine?: Machine;
  /** Unit of the cause; '' for a contact. */
  readonly unit: string;
  readonly causeName: string;
  readonly bands: Bands;
  /** What moved the cause: a test, or the plant itself outside any test. */
  readonly occasion: 'trial' | 'demand';
}

/** The interlocks of a report that its book knows; one that it does not know is a fault of the caller. */
export const subjectsOf = (report: WindowReport): readonly Subject[] =>
  report.interlocks.map((one) => subjectOf(report.book, one, report.demand ? 'demand' : 'trial'));

const subjectOf = (book: Book, report: InterlockReport, occasion: Subject['occasion']): Subject => {
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
    occasion,
    bands: bandsOf(interlock, referencesOf(machine, interlock.cause.signal, report.verdict.normal)),
  };
};

/** An interlock of which nothing was judged yet, for a sheet that is to be filled in. */
export const blankSubject = (book: Book, interlock: InterlockId): Subject =>
  subjectOf(
    book,
    {
      interlock,
      method: 'unstated',
      verdict: {
        outcome: 'not-tested',
        reasons: [{ code: 'no-trial', params: {} }],
        aspects: [],
        effects: [],
        proved: [],
        trials: [],
        trial: 0,
      },
      traces: [],
    },
    'trial',
  );

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

/** Effects that all stay as they are say what must not act. */
export const mustStay = ({ effects }: Interlock): boolean =>
  effects.every(({ becomes }) => becomes.kind === 'stays');
