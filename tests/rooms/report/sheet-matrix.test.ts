/** A cause-and-effect sheet against the rulebook. What marks look like is common practice of the trade, no source. */
import { describe, expect, test } from 'vitest';
import { compareSheet, matrixRows, type SheetCell, type SheetRow } from '../../../src/report/index.ts';
import { readMark } from '../../../src/report/sheet/marks.ts';
import { cellName } from '../../../src/report/sheet/matrix.ts';
import { CATALOGUE } from '../../../src/words/index.ts';
import { KINDS } from './kinds.ts';
import { SAMPLE } from './sample.ts';

const { book } = SAMPLE;
const rows = matrixRows(book, () => 'a cause');

const at = (interlock: string, effect: string): readonly [number, number] => [
  rows.findIndex((row) => row[0] === interlock),
  rows[0]?.indexOf(effect) ?? -1,
];

/** The sheet with one cell written over. */
const written = (interlock: string, effect: string, value: SheetCell): readonly SheetRow[] => {
  const [line, column] = at(interlock, effect);
  expect(Math.min(line, column)).toBeGreaterThan(0);
  return rows.map((row, index) =>
    index === line ? row.map((cell, where) => (where === column ? value : cell)) : row,
  );
};

const codes = (sheet: readonly SheetRow[]): string[] => {
  const { differences, faults } = compareSheet(book, sheet);
  return [...faults, ...differences].map(({ code }) => code);
};

const marks = book.interlocks.reduce((sum, { effects }) => sum + effects.length, 0);

describe('what the rulebook writes reads back to the same', () => {
  test.each([
    ['the sample', book],
    ['causes of every kind', KINDS.book],
  ])('%s', (_, of) => {
    const compared = compareSheet(
      of,
      matrixRows(of, () => ''),
    );
    expect(compared.differences).toEqual([]);
    expect(compared.faults).toEqual([]);
    expect(compared.same).toBe(of.interlocks.reduce((sum, { effects }) => sum + effects.length, 0));
  });
});

describe('each way to differ has its own name', () => {
  const stop = 'E1.underspeed-stop';
  test.each([
    ['an effect is not marked', written(stop, 'E1.tripped', ''), ['sheet-not-marked']],
    [
      'a mark that the rulebook does not have',
      written('E1.underspeed-alarm', 'E1.tripped', 'X'),
      ['sheet-not-in-rules'],
    ],
    ['another time', written(stop, 'E1.tripped', 'X 1.4 s'), ['sheet-other-time']],
    [
      'an earliest time that the rulebook does not have',
      written(stop, 'E1.tripped', '0.5 … 1.5 s'),
      ['sheet-other-earliest'],
    ],
    ['stays where it must act', written(stop, 'E1.tripped', 'stays'), ['sheet-must-act']],
    ['another interlock', [...rows, ['E9.stop']], ['sheet-no-interlock']],
    [
      'an interlock left out',
      rows.filter(([name]) => name !== 'E1.bearing-stop'),
      ['sheet-interlock-missing'],
    ],
    ['a cell that says nothing known', written(stop, 'E1.tripped', 'soon'), ['sheet-cell-unreadable']],
    ['a number that is no time', written(stop, 'E1.tripped', -1), ['sheet-cell-unreadable']],
    ['an interlock twice', [...rows, rows[1] ?? []], ['sheet-twice']],
    ['no head', rows.slice(1), ['sheet-no-head']],
    ['nothing at all', [], ['sheet-no-head']],
  ])('%s', (_, sheet, wanted) => expect(codes(sheet)).toEqual(wanted));

  test('a column of a signal that the site does not have, and one left out', () => {
    const column = rows[0]?.indexOf('E1.tripped') ?? -1;
    const renamed = rows.map((row, line) =>
      row.map((cell, where) => (line === 0 && where === column ? 'E1.trip' : cell)),
    );
    expect(codes(renamed)).toEqual(['sheet-no-signal', 'sheet-not-in-rules', 'sheet-no-column']);
  });

  test('a time as a bare number is in seconds; a mark without a time compares none', () => {
    for (const value of [1.5, 'X', '1,5', '1500 ms', '≤ 1.5 s', true, 'x <= 1.5s'])
      expect(compareSheet(book, written(stop, 'E1.tripped', value))).toEqual({
        differences: [],
        faults: [],
        same: marks,
      });
  });

  test('every code has its sentence', () => {
    const { differences } = compareSheet(book, written(stop, 'E1.tripped', 'X 1.4 s'));
    expect(differences[0]?.params).toMatchObject({ sheet: 1.4, rules: 1.5, interlock: stop });
    for (const code of Object.keys(CATALOGUE).filter((one) => one.startsWith('sheet-')))
      expect(CATALOGUE[code]).toMatch(/\.$/);
  });
});

test.each([
  ['', undefined],
  ['-', undefined],
  ['no', undefined],
  [null, undefined],
  ['X', { stays: false }],
  ['✔', { stays: false }],
  ['X 0.5 … 1.5 s', { least: 0.5, most: 1.5, stays: false }],
  ['0.5 - 1.5 s', { least: 0.5, most: 1.5, stays: false }],
  ['2 min', { most: 120, stays: false }],
  ['stays ≤ 3 s', { most: 3, stays: true }],
  ['X 1.5 rpm', 'unreadable'],
  ['XX', 'unreadable'],
  [Number.NaN, 'unreadable'],
] as const)('%j is read', (cell, mark) => expect(readMark(cell)).toEqual(mark));

// ISO/IEC 29500-1, 18.17.2.3: columns A to Z, then AA; the largest is XFD, the 16,384th.
test.each([
  [0, 0, 'A1'],
  [6, 5, 'F7'],
  [0, 25, 'Z1'],
  [0, 26, 'AA1'],
  [1_048_575, 16_383, 'XFD1048576'],
])('row %i, column %i is %s', (row, column, name) => expect(cellName(row, column)).toBe(name));
