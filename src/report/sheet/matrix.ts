import type { Reason } from '../../measure/index.ts';
import type { Book, Effect, Interlock } from '../../rulebook/index.ts';
import { type MarkRead, markText, readMark } from './marks.ts';

export type SheetCell = string | number | boolean | null;
export type SheetRow = readonly SheetCell[];

/** Columns before those of the effects; the first one names the interlock. */
export const MATRIX_HEAD = ['Interlock', 'Machine', 'Title', 'Hazard', 'Cause'] as const;

/** What a cause-and-effect sheet and the rulebook do not say alike; faults: cells that cannot be read. */
export interface SheetCompared {
  readonly differences: readonly Reason[];
  readonly faults: readonly Reason[];
  /** Marks that both have, with the same time where the sheet tells one. */
  readonly same: number;
}

/** A1, B1 … AA1: as spreadsheets name their cells; both from 0. */
export const cellName = (row: number, column: number): string => {
  let name = '';
  for (let rest = column + 1; rest > 0; rest = Math.floor((rest - 1) / 26))
    name = String.fromCharCode(65 + ((rest - 1) % 26)) + name;
  return `${name}${row + 1}`;
};

const wordsOf = (cell: SheetCell | undefined): string =>
  cell === null || cell === undefined ? '' : String(cell).trim();

const isHead = (row: SheetRow): boolean => wordsOf(row[0]).toLowerCase() === 'interlock';

const META: ReadonlySet<string> = new Set(MATRIX_HEAD.map((name) => name.toLowerCase()));

interface Column {
  readonly at: number;
  readonly effect: string;
}

const reason = (code: string, params: Reason['params']): Reason => ({ code, params });

const timeReasons = (where: Reason['params'], effect: Effect, mark: MarkRead): readonly Reason[] => {
  const [least, most] = [effect.notBefore / 1e6, effect.within / 1e6];
  const other = (code: string, sheet: number, rules: number): readonly Reason[] =>
    sheet === rules ? [] : [reason(code, { ...where, sheet, rules })];
  const stays = effect.becomes.kind === 'stays';
  return [
    ...(mark.stays === stays ? [] : [reason(stays ? 'sheet-must-stay' : 'sheet-must-act', where)]),
    ...(mark.most === undefined ? [] : other('sheet-other-time', mark.most, most)),
    ...(mark.least === undefined ? [] : other('sheet-other-earliest', mark.least, least)),
  ];
};

const compareCell = (
  interlock: Interlock,
  { effect: name }: Column,
  mark: MarkRead | undefined,
  cell: string,
): readonly Reason[] => {
  const effect = interlock.effects.find((one) => one.name === name);
  const where = { interlock: interlock.name, effect: name, cell };
  if (mark === undefined) return effect === undefined ? [] : [reason('sheet-not-marked', where)];
  return effect === undefined ? [reason('sheet-not-in-rules', where)] : timeReasons(where, effect, mark);
};

const twice = (names: readonly string[]): readonly string[] => [
  ...new Set(names.filter((name, index) => name !== '' && names.indexOf(name) !== index)),
];

/** Effects of the rules that the sheet has no column for. */
const withoutColumn = (interlock: Interlock, columns: readonly Column[]): readonly Reason[] =>
  interlock.effects
    .filter(({ name }) => !columns.some(({ effect }) => effect === name))
    .map(({ name }) => reason('sheet-no-column', { interlock: interlock.name, effect: name }));

/**
 * Holds a sheet against the rulebook: rows of cells, of which one begins with `Interlock` and names the effects. Of the
 * interlocks of other machines than these none is missed; every row that is there is compared.
 */
export const compareSheet = (
  book: Book,
  rows: readonly SheetRow[],
  machines: ReadonlySet<string> = new Set(),
): SheetCompared => {
  const top = rows.findIndex(isHead);
  const head = rows[top];
  if (head === undefined) return { differences: [], faults: [reason('sheet-no-head', {})], same: 0 };
  const columns = head
    .map((cell, at): Column => ({ at, effect: wordsOf(cell) }))
    .filter(({ effect }) => effect !== '' && !META.has(effect.toLowerCase()));
  const named = rows.slice(top + 1).map((row) => wordsOf(row[0]));
  const faults: Reason[] = [
    ...twice(named).map((name) => reason('sheet-twice', { name })),
    ...twice(columns.map(({ effect }) => effect)).map((name) => reason('sheet-twice', { name })),
  ];
  const differences: Reason[] = columns
    .filter(({ effect }) => !book.signals.some(({ name }) => name === effect))
    .map(({ at, effect }) => reason('sheet-no-signal', { effect, cell: cellName(top, at) }));
  let same = 0;
  rows.slice(top + 1).forEach((row, index) => {
    const name = named[index] ?? '';
    if (name === '') return;
    const at = top + 1 + index;
    const interlock = book.interlocks.find((one) => one.name === name);
    if (interlock === undefined) {
      differences.push(reason('sheet-no-interlock', { interlock: name, cell: cellName(at, 0) }));
      return;
    }
    for (const column of columns) {
      const value = row[column.at] ?? null;
      const mark = readMark(value);
      const cell = cellName(at, column.at);
      if (mark === 'unreadable') {
        faults.push(reason('sheet-cell-unreadable', { cell, value: String(value).slice(0, 60) }));
        continue;
      }
      const found = compareCell(interlock, column, mark, cell);
      differences.push(...found);
      if (mark !== undefined && found.length === 0) same += 1;
    }
    differences.push(...withoutColumn(interlock, columns));
  });
  for (const { name } of interlocksOn(book, machines))
    if (!named.includes(name)) differences.push(reason('sheet-interlock-missing', { interlock: name }));
  return { differences, faults, same };
};

/** The interlocks of these machines; of all where none is named. */
const interlocksOn = (book: Book, machines: ReadonlySet<string>): readonly Interlock[] =>
  book.interlocks.filter(
    ({ machine }) => machines.size === 0 || machines.has(book.machines[machine]?.name ?? ''),
  );

/**
 * Every interlock of these machines, or of all, against every effect that one of them has: rows of a sheet that `compareSheet`
 * reads back to the same.
 */
export const matrixRows = (
  book: Book,
  causeOf: (interlock: Interlock) => string,
  machines: ReadonlySet<string> = new Set(),
): readonly SheetRow[] => {
  const interlocks = interlocksOn(book, machines);
  const names = [...new Set(interlocks.flatMap(({ effects }) => effects.map(({ name }) => name)))];
  return [
    [...MATRIX_HEAD, ...names],
    ...interlocks.map((interlock): SheetRow => {
      const marks = names.map((name) => {
        const effect = interlock.effects.find((one) => one.name === name);
        return effect === undefined ? '' : markText(effect);
      });
      const machine = book.machines[interlock.machine]?.name ?? '';
      return [interlock.name, machine, interlock.title, interlock.hazard, causeOf(interlock), ...marks];
    }),
  ];
};
