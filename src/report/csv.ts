import { formatUtc, type Instant, type Interval, type Span } from '../measure/index.ts';
import { text } from '../words/index.ts';
import { decisionName } from './decision-text.ts';
import { type Subject, subjectsOf, unproved } from './facts.ts';
import { becomesText, effectsTold } from './sheet/effects.ts';
import type { WindowReport } from './types.ts';

/** A field: text, a number, a moment of time, or nothing. */
type Cell = string | number | boolean | undefined;

type Row = Readonly<Record<string, Cell>>;

/**
 * A spreadsheet takes what begins with one of these for a formula; an apostrophe before it makes it text there. Text
 * that begins with an apostrophe gets one too, so that taking one away gives back what was written.
 */
const ACTIVE = /^[=+\-@\t\r\n'\uff1d\uff0b\uff0d\uff20]/;

const plainNumber = (value: number): string => (Number.isFinite(value) ? String(value) : '');

const fieldText = (cell: Cell): string => {
  if (cell === undefined) return '';
  if (typeof cell === 'number') return plainNumber(cell);
  if (typeof cell === 'boolean') return cell ? 'yes' : 'no';
  const safe = ACTIVE.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
};

/** RFC 4180: a header, the same number of fields in every line, CRLF behind each line, the last one too. */
const csvText = (columns: readonly string[], rows: readonly Row[]): string =>
  [columns, ...rows.map((row) => columns.map((name) => row[name]))]
    .map((cells) => `${cells.map(fieldText).join(',')}\r\n`)
    .join('');

/** JSON stores a bound that is infinite as null. */
const bound = (value: number | null | undefined): number | undefined =>
  value === null || value === undefined || !Number.isFinite(value) ? undefined : value;

const both = (name: string, interval: Interval | undefined): Row => ({
  [`${name}_low`]: bound(interval?.low),
  [`${name}_high`]: bound(interval?.high),
});

/** The time in UTC after RFC 3339; '' where there is none. */
const moment = (at: Instant | null | undefined): string | undefined =>
  at === null || at === undefined || !Number.isFinite(at) ? undefined : formatUtc(at);

const changed = (span: Span | undefined): Row => ({
  changed_after: moment(span?.earliest),
  changed_by: moment(span?.latest),
});

/** Which window, and which state of the log and of the rules it was read from. */
const windowCells = (report: WindowReport): Row => ({
  site: report.book.site,
  window: report.window,
  kind: report.demand ? 'demand' : 'test',
  standing: report.standing,
  opened: moment(report.opened),
  closed: moment(report.closed),
});

const originCells = (report: WindowReport): Row => ({
  rules_sha256: report.bookHash,
  engine: report.engine,
  tool: report.toolVersion,
  log: report.log,
  log_entries: report.checkpoint?.size,
  log_root: report.checkpoint?.root,
});

const percent = (subject: Subject): Row => {
  const { tripPercent } = subject.report.verdict;
  return { ...both('trip_percent', tripPercent), trip_percent_unit: tripPercent && '% of normal' };
};

/** Columns of `verdictsCsv`, in order. Times in UTC; `_low` and `_high` are bounds, empty where there is none. */
export const VERDICT_COLUMNS = [
  ...['site', 'window', 'kind', 'standing', 'opened', 'closed'],
  ...['interlock', 'machine', 'title', 'hazard', 'method', 'decision_rule'],
  ...['verdict', 'as_found', 'as_left', 'reason_code', 'reason', 'trials', 'figures_from_trial'],
  ...['level_unit', 'trip_low', 'trip_high', 'set_point_low', 'set_point_high', 'allowed_low'],
  ...['allowed_high', 'limit_low', 'limit_high', 'limit_side', 'normal_low', 'normal_high'],
  ...['trip_percent_unit', 'trip_percent_low', 'trip_percent_high'],
  ...['time_unit', 'response_low', 'response_high', 'delay_low', 'delay_high'],
  ...['proved', 'not_proved'],
  ...['rules_sha256', 'engine', 'tool', 'log', 'log_entries', 'log_root'],
] as const;

const verdictRow = (report: WindowReport, subject: Subject): Row => {
  const { interlock, bands } = subject;
  const { verdict, method } = subject.report;
  const [first] = verdict.reasons;
  return {
    ...windowCells(report),
    interlock: interlock.name,
    machine: subject.machine?.name,
    title: interlock.title,
    hazard: interlock.hazard,
    method,
    decision_rule: decisionName(interlock),
    verdict: verdict.outcome,
    as_found: verdict.asFound,
    as_left: verdict.asLeft,
    reason_code: first.code,
    reason: text(first, { unit: subject.unit }),
    trials: verdict.trials.length,
    figures_from_trial: verdict.trial === 0 ? undefined : verdict.trial,
    level_unit: subject.unit,
    ...both('trip', verdict.tripPoint),
    ...both('set_point', bands.setPoint),
    ...both('allowed', bands.allowed),
    ...both('limit', bands.limit),
    limit_side: bands.limitSide,
    ...both('normal', verdict.normal),
    ...percent(subject),
    time_unit: 's',
    ...both('response', verdict.response),
    ...both('delay', verdict.delay),
    proved: verdict.proved.join(' '),
    not_proved: unproved(verdict.proved).join(' '),
    ...originCells(report),
  };
};

/** One line for each interlock of the window, as CSV after RFC 4180; numbers unrounded, with a point. */
export const verdictsCsv = (report: WindowReport): string =>
  csvText(
    VERDICT_COLUMNS,
    subjectsOf(report).map((subject) => verdictRow(report, subject)),
  );

/** Columns of `effectsCsv`, in order. `changed_after` and `changed_by`: it changed after the one and by the other. */
export const EFFECT_COLUMNS = [
  ...['site', 'window', 'interlock', 'effect', 'class', 'becomes', 'until', 'cascade'],
  ...['verdict', 'reason', 'time_unit', 'not_before', 'within', 'response_low', 'response_high'],
  ...['changed_after', 'changed_by'],
] as const;

/** One line for each effect of each interlock of the window. */
export const effectsCsv = (report: WindowReport): string =>
  csvText(
    EFFECT_COLUMNS,
    subjectsOf(report).flatMap((subject) =>
      effectsTold(subject).map(
        ({ effect, seen, outcome, words }): Row => ({
          site: report.book.site,
          window: report.window,
          interlock: subject.interlock.name,
          effect: effect.name,
          class: effect.class,
          becomes: becomesText(report.book, subject.machine, effect),
          until: effect.until,
          cascade: effect.cascade,
          verdict: outcome,
          reason: words,
          time_unit: 's',
          not_before: effect.notBefore / 1e6,
          within: effect.within / 1e6,
          ...both('response', seen?.response),
          ...changed(seen?.changed),
        }),
      ),
    ),
  );
