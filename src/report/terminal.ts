import type { Outcome, Reason } from '../measure/index.ts';
import { formatTime, TERMS, text } from '../words/index.ts';
import { absentText } from './absent.ts';
import { atOnceText, CAUTIONS, READING_RULES } from './cautions.ts';
import { hung, rowIn } from './columns.ts';
import { courseText } from './course-text.ts';
import { byEstimate, decisionName } from './decision-text.ts';
import { countOf, responseText, type Subject, subjectsOf, tripText, unproved } from './facts.ts';
import { markOf } from './marks.ts';
import { contradictionsTold } from './page/contradictions.ts';
import { DEMAND } from './page/demand.ts';
import { peopleSentences } from './people-terminal.ts';
import type { WindowReport } from './types.ts';

export interface TerminalOptions {
  /** Widest line; at least 72. 80 unless told. */
  readonly columns?: number;
  readonly colour?: boolean;
}

const COLOURS: Readonly<Record<Outcome, string>> = {
  pass: '32',
  fail: '1;31',
  inconclusive: '33',
  'not-tested': '2',
};

const ESCAPE = '\u001b';

const MARK = 14;
const TRIP = 19;
const RESPONSE = 15;

const row = (cells: readonly string[], columns: number): string[] =>
  rowIn(cells, [MARK, columns - MARK - TRIP - RESPONSE - 6, TRIP, RESPONSE]);

const painted = (line: string, outcome: Outcome, colour: boolean): string => {
  const mark = markOf(outcome);
  if (!colour || !line.startsWith(mark)) return line;
  return `${ESCAPE}[${COLOURS[outcome]}m${mark}${ESCAPE}[0m${line.slice(mark.length)}`;
};

/** A pass by the best estimate says how likely it is. */
const isLikely = ({ params }: Reason): boolean => params?.['probability'] !== undefined;

const beneath = (report: WindowReport, subject: Subject, columns: number): string[] => {
  const { verdict } = subject.report;
  const reasons = verdict.outcome === 'pass' ? verdict.reasons.filter(isLikely) : verdict.reasons;
  const told = [...new Set(reasons.map((reason) => text(reason, { unit: subject.unit })))];
  const proved = verdict.proved.map((segment) => TERMS.segments[segment]);
  const open = unproved(verdict.proved).map((segment) => TERMS.segments[segment]);
  const courses = verdict.trials.flatMap((trial) => {
    const course = courseText(trial, subject);
    return course === '' ? [] : [`${subject.occasion} ${trial.trial}: ${course}`];
  });
  const rule = byEstimate(subject.interlock) ? `decision rule: ${decisionName(subject.interlock)}` : '';
  const absent = absentText(report, subject);
  const atOnce = atOnceText(subject);
  return [
    ...(atOnce === undefined ? [] : hung(atOnce, columns, '    ! ', '      ')),
    ...(absent === undefined ? [] : hung(absent, columns, '    ! ', '      ')),
    ...told.flatMap((sentence) => hung(sentence, columns, '    - ', '      ')),
    ...courses.flatMap((one) => hung(one, columns, '    ', '             ')),
    ...(rule === '' ? [] : hung(rule, columns, '    ', '                   ')),
    ...(proved.length === 0 ? [] : hung(`proved: ${proved.join(', ')}`, columns, '    ', '            ')),
    ...(proved.length === 0 || open.length === 0
      ? []
      : hung(`not proved: ${open.join(', ')}`, columns, '    ', '            ')),
  ].map((line) => line.trimEnd());
};

const TALLY: readonly Outcome[] = ['pass', 'fail', 'inconclusive', 'not-tested'];

const danger = (line: string, dangerous: boolean, colour: boolean): string =>
  colour && dangerous ? `${ESCAPE}[${COLOURS.fail}m${line}${ESCAPE}[0m` : line;

/** What cannot both be right stands above the verdicts. */
const contradictions = (report: WindowReport, columns: number, colour: boolean): string[] =>
  contradictionsTold(report).flatMap(({ mark, dangerous, seconds, sentence }) =>
    hung(`${mark} at ${seconds}: ${sentence}`, columns, '', '  ').map((line) =>
      danger(line, dangerous, colour),
    ),
  );

/** The verdicts of a window as plain text, no line wider than `columns`. */
export const terminalTable = (report: WindowReport, options: TerminalOptions = {}): string => {
  const columns = Math.max(72, options.columns ?? 80);
  const colour = options.colour ?? false;
  const kind = report.demand ? 'demand' : 'window';
  const rule = '─'.repeat(columns);
  const closed = report.closed === undefined ? 'not closed' : formatTime(report.closed);
  const tally = TALLY.map((outcome) => `${markOf(outcome)} ${countOf(report, outcome)}`).join('   ');
  const bodies = subjectsOf(report).flatMap((subject) => {
    const { outcome } = subject.report.verdict;
    const cells = [markOf(outcome), subject.interlock.name, tripText(subject), responseText(subject)];
    const [first = '', ...rest] = row(cells, columns);
    return [painted(first, outcome, colour), ...rest, ...beneath(report, subject, columns)];
  });
  const lines = [
    ...hung(`${report.book.title} · ${kind} ${report.window} · ${report.standing}`, columns, '', ''),
    ...hung(`${formatTime(report.opened)} … ${closed}`, columns, '', ''),
    ...(report.demand ? hung(`◆ DEMAND: ${DEMAND}`, columns, '', '  ') : []),
    ...contradictions(report, columns, colour),
    rule,
    ...row(['VERDICT', 'INTERLOCK', 'TRIP POINT', 'RESPONSE'], columns),
    rule,
    ...bodies,
    rule,
    ...hung(tally, columns, '', ''),
    ...peopleSentences(report).flatMap((one) => hung(one, columns, '', '  ')),
    '',
    ...READING_RULES.slice(0, 1).flatMap((rule1) => hung(rule1, columns, '', '')),
    ...CAUTIONS.slice(0, 1).flatMap((caution) => hung(caution, columns, '! ', '  ')),
    ...CAUTIONS.filter((one) => /required shutdown|After the test/.test(one)).flatMap((caution) =>
      hung(caution, columns, '! ', '  '),
    ),
  ];
  return `${lines.join('\n')}\n`;
};
