import type { Instant } from '../../measure/index.ts';
import type { RegisterLife } from '../../record/index.ts';
import { formatTime, text } from '../../words/index.ts';
import { hung, packed, rowIn } from '../columns.ts';
import { type DueList, type DueRow, URGENCIES } from './due.ts';
import { markText, URGENCY_MARKS } from './standing-marks.ts';

export const dayText = (at: Instant): string => formatTime(at).slice(0, 10);

const lateText = ({ due, late = 0 }: DueRow): string => {
  if (due === undefined) return '–';
  if (late > 0) return `${dayText(due)}, ${late} d late`;
  return late === 0 ? `${dayText(due)}, today` : `${dayText(due)}, in ${-late} d`;
};

/** One open item: `punch-3 (A): guard loose, until 2026-03-01`. */
export const itemText = ({ id, category, text: said, limit }: RegisterLife): string =>
  `${id}${category === undefined ? '' : ` (${category})`}: ${said}${limit === undefined ? '' : `, until ${limit.slice(0, 10)}`}`;

const MARK = 14;
const DUE = 23;
const PASSED = 10;

const beneath = (row: DueRow, columns: number): string[] => [
  ...row.reasons.flatMap((reason) => hung(text(reason), columns, '    - ', '      ')),
  ...row.items.flatMap((item) => hung(itemText(item), columns, '    + ', '      ')),
];

/** What is due as plain text, no line wider than `columns`. */
export const dueText = (list: DueList, columns = 80): string => {
  const widths = [MARK, columns - MARK - DUE - PASSED - 6, DUE, PASSED];
  const rule = '─'.repeat(columns);
  const rows = list.rows.flatMap((row) => [
    ...rowIn(
      [
        markText(URGENCY_MARKS[row.urgency]),
        row.interlock,
        lateText(row),
        row.passed ? dayText(row.passed.at) : 'never',
      ],
      widths,
    ),
    ...beneath(row, columns),
  ]);
  const tally = URGENCIES.flatMap((urgency) => {
    const count = list.rows.filter((row) => row.urgency === urgency).length;
    return count === 0 ? [] : [`${markText(URGENCY_MARKS[urgency])} ${count}`];
  });
  const lines = [
    ...hung(`${list.title} · what is due on ${dayText(list.on)}`, columns, '', '  '),
    rule,
    ...rowIn(['STANDING', 'INTERLOCK', 'DUE', 'PASSED'], widths),
    rule,
    ...rows,
    rule,
    ...packed(tally, columns),
    ...hung('A demand is partial evidence and moves no date. Times are UTC.', columns, '', ''),
  ];
  return `${lines.join('\n')}\n`;
};
