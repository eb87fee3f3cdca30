import { formatNumber } from '../../words/index.ts';
import { decisionText } from '../decision-text.ts';
import type { Subject } from '../facts.ts';
import type { WindowReport } from '../types.ts';

/** One field of the record. */
export interface Field {
  readonly name: string;
  /** Absent: nobody stated it. */
  readonly value?: string;
  /** A hash or an identity: set in a face in which characters are told apart. */
  readonly code?: true;
  /** Name under which a page that checks itself holds it against its entries. */
  readonly fact?: string;
}

/** What stands where a field is blank. */
export const NOT_STATED = 'not stated';

/** Fields that a verification record should carry; blank ones are printed as such. */
const ASKED: readonly (readonly [string, string])[] = [
  ['area', 'Area'],
  ['procedure', 'Procedure'],
  ['permit', 'Permit'],
  ['lockout', 'Lock-out'],
  ['instrument', 'Instrument, serial, calibration due'],
  ['conditions', 'Machine empty, guards on, ambient'],
  ['observer', 'Observer'],
  ['listener', 'Alarm listener'],
  ['witness', 'Witness'],
  ['reviewer', 'Independent reviewer'],
  ['work-order', 'Work order'],
  ['follow-up', 'Punch items, deferrals'],
];

const field = (name: string, value: string | undefined, more: Partial<Field> = {}): Field => ({
  name,
  ...(value !== undefined && value !== '' && { value }),
  ...more,
});

const pollText = (report: WindowReport): string =>
  report.polling
    .map(
      ({ source, least, median, most, lost }) =>
        `${source}: ${formatNumber(least)} / ${formatNumber(median)} / ${formatNumber(most)} s (least, median, most), ${lost} answers lost`,
    )
    .join('; ');

const ORIGINS = { tag: 'read from the controller', typed: 'typed in' } as const;

const revisionText = (report: WindowReport): string =>
  report.revisions
    .map(({ machine, opened, closed, quality, closedQuality }) => {
      const at = (text: string, end: string, from?: 'tag' | 'typed'): string =>
        `${text} at the ${end}${from === undefined ? '' : ` (${ORIGINS[from]})`}`;
      if (closed === undefined)
        return `${machine}: ${opened} at the start, not read at the end (${ORIGINS[quality]})`;
      return closedQuality === undefined
        ? `${machine}: ${at(opened, 'start')}, ${at(closed, 'end', quality)}`
        : `${machine}: ${at(opened, 'start', quality)}, ${at(closed, 'end', closedQuality)}`;
    })
    .join('; ');

/** Each decision rule, with the interlocks that are held against it where there is more than one. */
const decisionsText = (subjects: readonly Subject[]): string => {
  const rules = [...new Set(subjects.map(({ interlock }) => decisionText(interlock)))];
  if (rules.length < 2) return rules[0] ?? '';
  return rules
    .map((rule) => {
      const own = subjects.filter(({ interlock }) => decisionText(interlock) === rule);
      return `${own.map(({ interlock }) => interlock.name).join(', ')}: ${rule}`;
    })
    .join('. ');
};

/** What the window ran on and was judged by. */
export const systemFields = (report: WindowReport, subjects: readonly Subject[]): readonly Field[] => [
  field('Site', report.book.site),
  field('Program revision', revisionText(report)),
  field('Poll achieved', pollText(report)),
  field('Decision rule', decisionsText(subjects)),
  field('Rules and site, SHA-256', report.bookHash, { code: true, fact: 'hash' }),
  field('Judged by', `engine ${report.engine}, tripwitness ${report.toolVersion}`),
  field('Log', report.log, { code: true, fact: 'log' }),
  field(
    'Root of the log',
    report.checkpoint && `${report.checkpoint.root} over ${report.checkpoint.size} entries`,
    { code: true, fact: 'root' },
  ),
];

/** Who was there, what was stated, and what of all that should be stated was not. Nobody tested where a demand came. */
export const statedFields = (report: WindowReport): readonly Field[] => {
  const { demand = false, people, stated } = report;
  const asked = demand ? [] : ASKED;
  return [
    ...(demand ? [] : people.map(({ name, role }) => field(role, name, { fact: 'person' }))),
    ...asked.map(([key, name]) => field(name, stated[key])),
    ...Object.entries(stated)
      .filter(([key]) => !asked.some(([one]) => one === key))
      .map(([key, value]) => field(key, value)),
  ];
};
