import { TERMS, text } from '../../words/index.ts';
import { clean, hung, packed, padded, wrap } from '../columns.ts';
import type { Covered } from './coverage.ts';
import { dayText } from './due-text.ts';
import type { CellState, Matrix, MatrixCell, MatrixColumn, MatrixRow } from './matrix.ts';
import { markText, STANDING_MARKS } from './standing-marks.ts';

const MARK = 14;
const CELL = 4;

/** Columns side by side in one block, with their numbers in the legend. */
interface Block {
  readonly from: number;
  readonly columns: readonly MatrixColumn[];
}

const blocksOf = (columns: readonly MatrixColumn[], room: number): readonly Block[] => {
  const many = Math.max(1, room);
  const blocks: Block[] = [];
  for (let from = 0; from < columns.length; from += many)
    blocks.push({ from, columns: columns.slice(from, from + many) });
  return blocks;
};

/** A marked cell without a result must not look like one that nothing is asked of. */
const shapeOf = ({ state, marked }: MatrixCell): string =>
  marked || state !== 'unwatched' ? STANDING_MARKS[state][0] : ' ';

const SINCE = { proved: 'proved', stale: 'stale, proved', old: 'long ago,', never: 'never proved' } as const;

/** Parts that stand alike, together: `proved 2026-01-02: wiring, input; never proved: sensor`. */
const coverageText = (covered: readonly Covered[]): string => {
  const groups = new Map<string, string[]>();
  for (const { segment, standing, at } of covered) {
    const key = at === undefined ? SINCE[standing] : `${SINCE[standing]} ${dayText(at)}`;
    groups.set(key, [...(groups.get(key) ?? []), TERMS.segments[segment]]);
  }
  if (groups.size === 1 && groups.has(SINCE.never)) return 'no part of it was ever proved';
  return [...groups].map(([key, names]) => `${key}: ${names.join(', ')}`).join('; ');
};

const evidenceText = ({ proof }: MatrixRow): string => {
  const { pass, revision } = proof;
  if (pass === undefined) return '';
  const { window, past } = pass;
  return `proved ${dayText(window.closed ?? window.opened)} in ${window.id}, ${TERMS.methods[past.method]}, revision ${revision ?? 'not stated'}`;
};

const tripLines = (row: MatrixRow, columns: number): string[] =>
  row.cells.flatMap(({ state, reason }) =>
    state === 'cross-trip' && reason ? hung(text(reason), columns, '    ✱ ', '      ') : [],
  );

const beneath = (row: MatrixRow, columns: number): string[] => {
  const evidence = evidenceText(row);
  return [
    ...hung(row.cause, columns, '    ', '      '),
    ...(evidence === '' ? [] : hung(evidence, columns, '    ', '      ')),
    ...row.proof.reasons.flatMap((reason) => hung(text(reason), columns, '    - ', '      ')),
    ...tripLines(row, columns),
    ...hung(`chain: ${coverageText(row.coverage)}`, columns, '    ', '           '),
  ];
};

const gridRow = (row: MatrixRow, { from, columns }: Block, name: number): string[] => {
  const cells = columns.map((_, index) => {
    const cell = row.cells[from + index];
    return padded(cell ? shapeOf(cell) : ' ', CELL);
  });
  return wrap(clean(row.interlock), name).map((line, index) =>
    (
      padded(index === 0 ? markText(STANDING_MARKS[row.proof.standing]) : '', MARK + 2) +
      padded(line, name + 2) +
      (index === 0 ? cells.join('') : '')
    ).trimEnd(),
  );
};

const machinePart = (
  machine: string,
  rows: readonly MatrixRow[],
  matrix: Matrix,
  columns: number,
): string[] => {
  const used = matrix.columns.flatMap((column, index) =>
    rows.some(({ cells }) => {
      const cell = cells[index];
      return cell !== undefined && (cell.marked || cell.state === 'cross-trip');
    })
      ? [{ column, index }]
      : [],
  );
  const own = rows.map((row) => ({
    ...row,
    cells: used.flatMap(({ index }) => row.cells[index] ?? []),
  }));
  const name = Math.min(30, Math.max(...rows.map(({ interlock }) => interlock.length)));
  const blocks = blocksOf(
    used.map(({ column }) => column),
    Math.floor((columns - MARK - name - 4) / CELL),
  );
  const rule = '─'.repeat(columns);
  const grid = blocks.flatMap((block) => [
    padded('', MARK + 2 + name + 2) +
      block.columns.map((_, index) => padded(String(block.from + index + 1), CELL)).join(''),
    ...own.flatMap((row) => gridRow(row, block, name)),
    ...block.columns.flatMap((column, index) =>
      hung(column.name, columns, `  ${padded(String(block.from + index + 1), 4)}`, '      '),
    ),
  ]);
  return [
    rule,
    clean(machine),
    rule,
    ...grid.map((line) => line.trimEnd()),
    '',
    ...own.flatMap((row) => [...hung(row.interlock, columns, '', '  '), ...beneath(row, columns)]),
  ];
};

const LEGEND: readonly CellState[] = [
  'proved',
  'failed',
  'inconclusive',
  'never',
  'stale',
  'overdue',
  'bypassed',
  'cross-trip',
  'quiet',
];

/** The matrix as plain text, machine by machine, no line wider than `columns`. */
export const matrixText = (matrix: Matrix, columns = 80): string => {
  const machines = [...new Set(matrix.rows.map(({ machine }) => machine))];
  const parts = machines.flatMap((machine) =>
    machinePart(
      machine,
      matrix.rows.filter((row) => row.machine === machine),
      matrix,
      columns,
    ),
  );
  const tally = LEGEND.flatMap((state) => {
    const count = matrix.rows.filter(({ proof }) => proof.standing === state).length;
    return count === 0 ? [] : [`${markText(STANDING_MARKS[state])} ${count}`];
  });
  const lines = [
    ...hung(`${matrix.title} · causes and effects on ${dayText(matrix.on)}`, columns, '', '  '),
    ...packed(
      LEGEND.map((state) => markText(STANDING_MARKS[state])),
      columns,
    ),
    ...hung(
      'blank: not marked and not watched. Quiet: watched in a test that passed, and nothing acted unexplained.',
      columns,
      '',
      '',
    ),
    ...parts,
    '─'.repeat(columns),
    ...packed(tally, columns),
  ];
  return `${lines.join('\n')}\n`;
};
