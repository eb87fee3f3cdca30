import { formatInterval } from '../../words/index.ts';
import { hung } from '../columns.ts';
import { markOf } from '../marks.ts';
import { type Compared, type CompareRow, type Comparison, isChanged } from './compare.ts';

const MARKS = {
  changed: '≠ CHANGED',
  'no-change-visible': '= no change visible',
  'one-side': '? cannot tell',
} as const;

const figureText = ({ what, unit, a, b, difference, told }: Compared): string => {
  const side = (one: Compared['a']): string =>
    one === undefined ? 'not measured' : formatInterval(one, unit);
  const by = difference === undefined ? '' : `, by ${formatInterval(difference, unit)}`;
  const within =
    told === 'no-change-visible' && difference ? ` within ${formatInterval(difference, unit)}` : '';
  return `${MARKS[told]}${within}: ${what} ${side(a)} → ${side(b)}${told === 'changed' ? by : ''}`;
};

const markOfRow = (row: CompareRow): string => {
  if (isChanged(row)) return '≠';
  return row.a === undefined || row.b === undefined ? '?' : '=';
};

const rowLines = (row: CompareRow, names: Comparison, columns: number): string[] => {
  const side = (one: CompareRow['a'], name: string): string =>
    one === undefined ? `not tested in ${name}` : `${markOf(one.outcome)} in ${one.window}`;
  const told = [
    ...row.figures.map(figureText),
    ...row.onlyA.map((effect) => `≠ CHANGED: ${effect} came only in ${names.a}`),
    ...row.onlyB.map((effect) => `≠ CHANGED: ${effect} came only in ${names.b}`),
    ...row.order.map(([one, two]) => `≠ CHANGED: ${one} came before ${two}, and comes behind it now`),
    ...row.rules.map(({ what, was, becomes }) => `≠ CHANGED in the rulebook: ${what} ${was} → ${becomes}`),
  ];
  return [
    ...hung(`${markOfRow(row)} ${row.interlock}`, columns, '', '  '),
    ...hung(`${side(row.a, names.a)} → ${side(row.b, names.b)}`, columns, '    ', '      '),
    ...told.flatMap((one) => hung(one, columns, '    - ', '      ')),
  ];
};

/** Two windows or revisions side by side, no line wider than `columns`. */
export const compareText = (comparison: Comparison, columns = 80): string => {
  const { a, b, rows } = comparison;
  const lines = [
    ...hung(`${a} → ${b}`, columns, '', '  '),
    '─'.repeat(columns),
    ...rows.flatMap((row) => rowLines(row, comparison, columns)),
    '─'.repeat(columns),
    ...hung(
      `${rows.filter(isChanged).length} of ${rows.length} changed. Changed: the intervals do not overlap. Where they do, a change smaller than their doubt cannot be excluded.`,
      columns,
      '',
      '',
    ),
  ];
  return `${lines.join('\n')}\n`;
};
