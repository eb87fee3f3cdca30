/** Causes and effects as xlsx (ISO/IEC 29500), read and written by openpyxl beside our own reader. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { instant } from '../../../src/measure/index.ts';
import { type MatrixProved, matrixXlsx, readMatrixXlsx } from '../../../src/print/index.ts';
import { compareSheet } from '../../../src/report/index.ts';
import { KINDS } from '../report/kinds.ts';
import { SAMPLE } from '../report/sample.ts';

const folder = mkdtempSync(join(tmpdir(), 'tripwitness-xlsx-'));
afterAll(() => rmSync(folder, { recursive: true }));

const openpyxl = spawnSync('/usr/bin/python3', ['-c', 'import openpyxl']).status === 0;
const without = openpyxl ? '' : ' (skipped: Debian package python3-openpyxl is missing)';

const python = (script: string, ...args: readonly string[]): string => {
  const done = spawnSync('/usr/bin/python3', ['-c', script, ...args], { encoding: 'utf8' });
  if (done.status !== 0) throw new Error(done.stderr);
  return done.stdout;
};

const PROVED: MatrixProved = {
  log: 'saltmarsh-2025',
  bookHash: SAMPLE.bookHash,
  on: instant(1_764_063_000_000_000),
  rows: [
    {
      interlock: 'E1.underspeed-stop',
      cells: [
        { effect: 'E1.run-command', state: 'proved', window: 'w-0007', at: instant(1_764_063_000_000_000) },
        { effect: 'E1.tripped', state: 'unwatched' },
      ],
    },
  ],
};

test.each([
  ['the sample', SAMPLE.book],
  ['causes of every kind', KINDS.book],
])('what is written reads back to the same: %s', async (_, book) => {
  const rows = await readMatrixXlsx(await matrixXlsx(book));
  const { differences, faults } = compareSheet(book, rows ?? []);
  expect([...differences, ...faults]).toEqual([]);
});

test.each([
  ['nothing', new Uint8Array()],
  ['text', new TextEncoder().encode('Interlock,E1.tripped\r\n')],
  ['half a file', async () => (await matrixXlsx(SAMPLE.book)).slice(0, 700)],
])('%s is refused', async (_, bytes) => {
  expect(await readMatrixXlsx(typeof bytes === 'function' ? await bytes() : bytes)).toBeUndefined();
});

describe.skipIf(!openpyxl)(`beside openpyxl${without}`, () => {
  test('it finds the same cells, as text, none of them a formula', async () => {
    const [first, ...rest] = SAMPLE.book.interlocks;
    if (first === undefined) throw new Error('the sample has interlocks');
    const book = { ...SAMPLE.book, interlocks: [{ ...first, title: '=1+1' }, ...rest] };
    const path = join(folder, 'ours.xlsx');
    writeFileSync(path, await matrixXlsx(book, PROVED));
    const told = JSON.parse(
      python(
        `
import json, sys, openpyxl
book = openpyxl.load_workbook(sys.argv[1])
print(json.dumps({s.title: [[[c.data_type, c.value] for c in row] for row in s.iter_rows()] for s in book}))
`,
        path,
      ),
    ) as Record<string, [string, unknown][][]>;
    expect(Object.keys(told)).toEqual(['Matrix', 'Proofs', 'About']);
    const kinds = Object.values(told).flatMap((rows) => rows.flatMap((row) => row.map(([kind]) => kind)));
    expect(kinds).not.toContain('f');
    expect(told['Matrix']?.[1]?.[2]).toEqual(['s', '=1+1']);
    const head = told['Matrix']?.[0]?.map(([, value]) => value) ?? [];
    expect(told['Matrix']?.[1]?.[head.indexOf('E1.run-command')]?.[1]).toBe('X ≤ 1.5 s');
    expect(told['Proofs']?.[1]?.map(([, value]) => value)).toEqual([
      'E1.underspeed-stop',
      'E1.run-command',
      'proved',
      'w-0007',
      '2025-11-25 09:30:00.000 UTC',
      null,
    ]);
    expect(told['Proofs']).toHaveLength(2);
  });

  test('a sheet that it wrote and changed is compared', async () => {
    const [from, to] = [join(folder, 'from.xlsx'), join(folder, 'to.xlsx')];
    writeFileSync(from, await matrixXlsx(SAMPLE.book));
    python(
      `
import sys, openpyxl
book = openpyxl.load_workbook(sys.argv[1])
sheet = book['Matrix']
head = [c.value for c in sheet[1]]
sheet.cell(2, head.index('E1.tripped') + 1).value = 2.5
sheet.cell(2, head.index('E1.motor-running') + 1).value = None
book.save(sys.argv[2])
`,
      from,
      to,
    );
    const { differences, faults } = compareSheet(SAMPLE.book, (await readMatrixXlsx(readFileSync(to))) ?? []);
    expect(faults).toEqual([]);
    expect(differences.map(({ code, params }) => [code, params['effect']])).toEqual([
      ['sheet-other-time', 'E1.tripped'],
      ['sheet-not-marked', 'E1.motor-running'],
    ]);
  });
});
