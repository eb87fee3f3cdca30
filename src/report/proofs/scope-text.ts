import { text } from '../../words/index.ts';
import { hung } from '../columns.ts';
import type { Nearness, ScopeList, ScopeRow } from './scope.ts';

const WORDS: Readonly<Record<Nearness, readonly [mark: string, word: string]>> = {
  direct: ['■', 'DIRECT: edited itself. Prove it end to end, from the sensor to the final element'],
  shared: ['◧', 'SHARED: from the logic to the final element, and one end to end for each card'],
  neighbour: ['◇', 'NEIGHBOUR: prove that its effects still come'],
  control: ['○', 'CONTROL: a sample of what nobody touched'],
  all: ['■', 'ALL: everything is to be proved end to end'],
};

/** Why an interlock is in the scope, in one line. */
export const whyText = ({ nearness, reasons }: ScopeRow): string => {
  const told = reasons.slice(0, 3).map((reason) => text(reason));
  const more = reasons.length - told.length;
  return `${nearness}: ${told.join(' ')}${more > 0 ? ` (${more} more)` : ''}`;
};

/** The scope of a change as plain text, no line wider than `columns`. */
export const scopeText = (list: ScopeList, columns = 80): string => {
  const groups = [...new Set(list.rows.map(({ nearness }) => nearness))].flatMap((nearness) => {
    const [mark, word] = WORDS[nearness];
    const rows = list.rows.filter((row) => row.nearness === nearness);
    return [
      '',
      ...hung(word, columns, '', '  '),
      ...rows.flatMap((row) => [
        ...hung(row.interlock, columns, `  ${mark} `, '    '),
        ...[...new Set(row.reasons.map((reason) => text(reason)))]
          .slice(0, 6)
          .flatMap((one) => hung(one, columns, '      - ', '        ')),
      ]),
    ];
  });
  const none =
    list.rows.length === 0 ? ['Nothing is to be proved again: no interlock rests on what was named.'] : [];
  const lines = [
    `To be proved again: ${list.rows.length} of ${list.rows.length + list.untouched.length} interlocks`,
    ...none,
    ...groups,
    '',
    ...(list.gone.length === 0 ? [] : hung(`gone: ${list.gone.join(', ')}`, columns, '', '  ')),
    ...hung(
      list.untouched.length === 0
        ? 'Nothing else is there.'
        : `The others keep their proof (${list.untouched.length}): ${list.untouched.join(', ')}`,
      columns,
      '',
      '  ',
    ),
    ...list.unknown.flatMap((name) =>
      hung(
        `"${name}" is no interlock, tag or depends-on of this rulebook: nothing can be said of what rests on it. Write it under depends-on, or prove all that may.`,
        columns,
        '! ',
        '  ',
      ),
    ),
    ...hung(
      'The program itself is not read: what is not written under depends-on is not known here.',
      columns,
      '! ',
      '  ',
    ),
  ];
  return `${lines.join('\n')}\n`;
};
