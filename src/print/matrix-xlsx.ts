import { readXlsx, writeXlsx } from 'hucre/xlsx';
import {
  blankSubject,
  causeText,
  MATRIX_HEAD,
  type Matrix,
  type MatrixCell,
  matrixRows,
  type SheetRow,
} from '../report/index.ts';
import type { Book } from '../rulebook/index.ts';
import { formatTime } from '../words/index.ts';
import { shown } from './text.ts';

type CellProved = Pick<MatrixCell, 'effect' | 'state' | 'at' | 'window' | 'revision'>;

/** The part of a matrix that a sheet tells beside the marks. */
export interface MatrixProved extends Pick<Matrix, 'log' | 'bookHash' | 'on'> {
  readonly rows: readonly { readonly interlock: string; readonly cells: readonly CellProved[] }[];
}

type Rows = (string | number | boolean | null)[][];

const BOLD = { font: { bold: true }, alignment: { wrapText: true, vertical: 'top' as const } };

/** The name of the sheet that is read back. */
const MARKS = 'Matrix';

/** Blank cells are blank, not texts without letters. */
const cellOf = (cell: SheetRow[number]): SheetRow[number] => {
  if (cell === '') return null;
  return typeof cell === 'string' ? shown(cell) : cell;
};

const table = (name: string, rows: readonly SheetRow[], wide: number) => {
  const [head = []] = rows;
  const cells = new Map(head.map((_, at) => [`0,${at}`, { style: BOLD }]));
  return {
    name,
    rows: rows.map((row) => row.map(cellOf)) as Rows,
    columns: head.map((_, at) => ({ width: at < MATRIX_HEAD.length ? 26 : wide })),
    cells,
    freezePane: { rows: 1, columns: 1 },
    pageSetup: { orientation: 'landscape' as const, fitToPage: true, fitToWidth: 1, fitToHeight: 0 },
  };
};

/** One row for each cell about which something is known or should be. */
const provedRows = ({ rows }: MatrixProved): readonly SheetRow[] => [
  ['Interlock', 'Effect', 'State', 'Window', 'When (UTC)', 'Program revision'],
  ...rows.flatMap(({ interlock, cells }) =>
    cells
      .filter(({ state }) => state !== 'unwatched')
      .map(
        ({ effect, state, window = '', at, revision = '' }): SheetRow => [
          interlock,
          effect,
          state,
          window,
          at === undefined ? '' : formatTime(at),
          revision,
        ],
      ),
  ),
];

const aboutRows = (
  book: Book,
  proved: MatrixProved | undefined,
  machines: ReadonlySet<string>,
): readonly SheetRow[] => [
  ['Causes and effects', book.title],
  ['Site', book.site],
  ...(machines.size === 0 ? [] : [['Only the machines', [...machines].join(', ')] as const]),
  ...(proved === undefined
    ? []
    : ([
        ['Rules and site, SHA-256', proved.bookHash],
        ['Log', proved.log],
        ['As of', formatTime(proved.on)],
      ] as const)),
  ['Marks', 'X: must act; stays: must stay as it is. The time counts from the cause at its set point.'],
  [
    'To compare',
    `Change the sheet "${MARKS}" and hold it against the rulebook: tripwitness matrix SITE ${[...machines].map((name) => `--machine ${name} `).join('')}--from FILE`,
  ],
];

/**
 * Causes and effects as xlsx: what the rulebook asks for, what is proved of it where that is known, and how to read it.
 * Text is stored as text, so that no cell becomes a formula. `machines`: only these; all where none is named.
 */
export const matrixXlsx = async (
  book: Book,
  proved?: MatrixProved,
  machines: ReadonlySet<string> = new Set(),
): Promise<Uint8Array> => {
  const causes = matrixRows(book, ({ id }) => causeText(book, blankSubject(book, id)), machines);
  return writeXlsx({
    sheets: [
      table(MARKS, causes, 16),
      ...(proved === undefined ? [] : [table('Proofs', provedRows(proved), 26)]),
      table('About', aboutRows(book, proved, machines), 80),
    ],
  });
};

/** Rows of the sheet `Matrix`, or of the first one; undefined where the file is no xlsx that can be read. */
export const readMatrixXlsx = async (bytes: Uint8Array): Promise<readonly SheetRow[] | undefined> => {
  try {
    const { sheets } = await readXlsx(bytes, { maxRows: 20_000 });
    const found = sheets.find(({ name }) => name === MARKS) ?? sheets[0];
    return found?.rows.map(
      (row) => row.map((cell) => (cell instanceof Date ? String(cell) : cell)) as SheetRow,
    );
  } catch {
    return undefined;
  }
};
