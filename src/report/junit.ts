import { formatUtc, type Outcome, SECOND } from '../measure/index.ts';
import { type Subject, subjectsOf } from './facts.ts';
import { escaped, shape } from './markup.ts';
import { contradictionsTold } from './page/contradictions.ts';
import { sentencesOf } from './sheet/words.ts';
import type { WindowReport } from './types.ts';

/** One case of a suite; times in seconds. */
interface Case {
  readonly group: string;
  readonly name: string;
  readonly seconds: number;
  readonly outcome: Outcome;
  /** Why, the first one first. */
  readonly told: readonly [string, ...string[]];
  /** The code of the first reason. */
  readonly type: string;
}

/** A fail is a failure; evidence that does not decide is an error; what nobody tested is skipped. */
const TAGS: Readonly<Record<Exclude<Outcome, 'pass'>, 'failure' | 'error' | 'skipped'>> = {
  fail: 'failure',
  inconclusive: 'error',
  'not-tested': 'skipped',
};

const seconds = (value: number): string => Math.max(0, value).toFixed(3);

const caseXml = ({ group, name, seconds: time, outcome, told, type }: Case): string => {
  const [message] = told;
  const attributes = { classname: group, name, time: seconds(time) };
  if (outcome === 'pass') return shape('testcase', attributes);
  const tag = TAGS[outcome];
  const inner =
    tag === 'skipped'
      ? shape('skipped', { message })
      : shape(tag, { message, type }, escaped(told.join('\n')));
  return shape('testcase', attributes, inner);
};

const trialSeconds = ({ report }: Subject): number =>
  report.verdict.trials.reduce((sum, { span }) => sum + (span.latest - span.earliest) / SECOND, 0);

const caseOf = (report: WindowReport, subject: Subject): Case => {
  const { verdict } = subject.report;
  const [first = verdict.outcome, ...rest] = sentencesOf(verdict.reasons, subject.unit);
  return {
    group: `${report.book.site}.${subject.machine?.name ?? 'machine-not-known'}`,
    name: subject.interlock.name,
    seconds: trialSeconds(subject),
    outcome: verdict.outcome,
    told: [first, ...rest],
    type: verdict.reasons[0].code,
  };
};

/** A window in which nothing was judged must not look like one in which all is well. */
const NOTHING = (site: string): Case => ({
  group: site,
  name: 'interlocks',
  seconds: 0,
  outcome: 'inconclusive',
  told: ['No interlock has a verdict.'],
  type: 'no-verdict',
});

/** What says that a protection is not there fails, whether the interlock was under test or not. */
const dangers = (report: WindowReport): readonly Case[] =>
  contradictionsTold(report)
    .filter(({ dangerous }) => dangerous)
    .map(({ sentence, seconds: when, time }) => ({
      group: `${report.book.site}.contradictions`,
      name: `${when}: ${sentence}`,
      seconds: 0,
      outcome: 'fail',
      told: [sentence, time],
      type: 'contradiction',
    }));

const suite = (report: WindowReport, cases: readonly Case[]): string => {
  const count = (outcome: Outcome): number => cases.filter((one) => one.outcome === outcome).length;
  const length = report.closed === undefined ? 0 : (report.closed - report.opened) / SECOND;
  const counts = {
    tests: String(cases.length),
    failures: String(count('fail')),
    errors: String(count('inconclusive')),
    skipped: String(count('not-tested')),
    time: seconds(length),
  };
  const facts: readonly (readonly [string, string | undefined])[] = [
    ['window', report.window],
    ['standing', report.standing],
    ['opened', formatUtc(report.opened)],
    ['closed', report.closed === undefined ? undefined : formatUtc(report.closed)],
    ['rules-sha256', report.bookHash],
    ['engine', String(report.engine)],
    ['tool', report.toolVersion],
    ['log', report.log],
    ['log-entries', report.checkpoint && String(report.checkpoint.size)],
    ['log-root', report.checkpoint?.root],
  ];
  const properties = facts
    .map(([name, value]) => (value === undefined ? '' : shape('property', { name, value })))
    .join('\n');
  // Its readers want the time without a zone; it is UTC, and stands with its zone among the properties.
  const timestamp = formatUtc(report.opened).slice(0, 19);
  const title = `${report.book.site} ${report.demand ? 'demand' : 'window'} ${report.window}`;
  const inner = `\n<properties>\n${properties}\n</properties>\n${cases.map(caseXml).join('\n')}\n`;
  return `${shape('testsuites', { name: 'tripwitness', ...counts }, `\n${shape('testsuite', { name: title, ...counts, timestamp }, inner)}\n`)}\n`;
};

/**
 * The verdicts of a window as JUnit XML, by which a pipeline lets a change of a program through or not. There is no
 * standard; the elements are those that its readers share. The same report gives the same bytes.
 */
export const junitXml = (report: WindowReport): string => {
  const judged = subjectsOf(report).map((subject) => caseOf(report, subject));
  const cases = [...(judged.length === 0 ? [NOTHING(report.book.site)] : judged), ...dangers(report)];
  return `<?xml version="1.0" encoding="UTF-8"?>\n${suite(report, cases)}`;
};
