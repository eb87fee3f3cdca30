/** Sheets from the command line: what is written for a site is held against it, and blank sheets are listed by code. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeEach, expect, test, vi } from 'vitest';
import { compareMatrixSheet, writeMatrixSheet } from '../../../src/cli/matrix-sheet.ts';
import { sheetCommand } from '../../../src/cli/sheet.ts';
import { loadBook } from '../../../src/cli/site.ts';
import { readMatrixXlsx } from '../../../src/print/index.ts';

const SITE = 'config/demo-site.yaml';
const folder = mkdtempSync(join(tmpdir(), 'tripwitness-sheets-'));
afterAll(() => rmSync(folder, { recursive: true }));

let said = '';
beforeEach(() => {
  said = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    said += String(text);
    return true;
  });
});
afterEach(() => void vi.restoreAllMocks());

test('0 where sheet and rulebook say the same, 1 and the cells where not', async () => {
  const { book } = await loadBook(SITE, false);
  const from = join(folder, 'same.xlsx');
  await writeMatrixSheet(book, from, { json: true, machine: [] });
  expect(await compareMatrixSheet(SITE, { json: true, from, machine: [] })).toBe(0);
  const [first, ...rest] = book.interlocks;
  if (first === undefined) throw new Error('the demo site has interlocks');
  const [effect, ...others] = first.effects;
  const slower = { ...first, effects: [{ ...effect, within: effect.within * 2 }, ...others] as const };
  const other = join(folder, 'other.xlsx');
  await writeMatrixSheet({ ...book, interlocks: [slower, ...rest] }, other, { json: true, machine: [] });
  said = '';
  expect(await compareMatrixSheet(SITE, { json: false, from: other, machine: [] })).toBe(1);
  expect(said).toContain(first.name);
  expect(said).toContain('1 difference');
  for (const line of said.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
});

test('of one machine: its rows and the columns that they mark, held against its rules alone', async () => {
  const { book } = await loadBook(SITE, false);
  const from = join(folder, 'one.xlsx');
  const own = book.interlocks.filter(({ machine }) => book.machines[machine]?.name === 'E1');
  expect(own.length).toBeLessThan(book.interlocks.length);
  await writeMatrixSheet(book, from, { json: true, machine: ['E1'] });
  const [head = [], ...rows] = (await readMatrixXlsx(readFileSync(from))) ?? [];
  expect(rows.map(([name]) => name)).toEqual(own.map(({ name }) => name));
  expect(head.slice(5)).toEqual([...new Set(own.flatMap(({ effects }) => effects.map(({ name }) => name)))]);
  expect(await compareMatrixSheet(SITE, { json: true, from, machine: ['E1'] })).toBe(0);
  said = '';
  expect(await compareMatrixSheet(SITE, { json: true, from, machine: [] })).toBe(1);
  const { differences } = JSON.parse(said) as { differences: { code: string }[] };
  expect(new Set(differences.map(({ code }) => code))).toEqual(new Set(['sheet-interlock-missing']));
  await expect(compareMatrixSheet(SITE, { json: true, from, machine: ['E9'] })).rejects.toMatchObject({
    exit: 64,
  });
});

test('what is no xlsx is refused, with what to do', async () => {
  const from = join(folder, 'text.xlsx');
  writeFileSync(from, 'Interlock,E1.tripped');
  await expect(compareMatrixSheet(SITE, { json: false, from, machine: [] })).rejects.toMatchObject({
    exit: 65,
  });
  const missing = join(folder, 'none.xlsx');
  await expect(compareMatrixSheet(SITE, { json: false, from: missing, machine: [] })).rejects.toMatchObject({
    exit: 65,
  });
});

test('blank sheets are written, and their codes are told', async () => {
  const pdf = join(folder, 'sheets.pdf');
  expect(
    await sheetCommand(SITE, { json: true, pdf, paper: 'letter', interlock: ['E1.underspeed-stop'] }),
  ).toBe(0);
  const told = JSON.parse(said) as { sheets: { interlock: string; code: string; values: string[] }[] };
  expect(told.sheets.map(({ interlock }) => interlock)).toEqual(['E1.underspeed-stop']);
  expect(told.sheets[0]?.code).toMatch(/^[0-9A-Z]{4}(-[0-9A-Z]{4}){3}$/);
  expect(told.sheets[0]?.values).toContain('as-found-response');
  // ISO 32000-1, 7.5.2: the first line of a file.
  expect(readFileSync(pdf).subarray(0, 8).toString('latin1')).toBe('%PDF-1.7');
  const unknown = { json: true, pdf, paper: 'a4', interlock: ['E9.stop'] } as const;
  await expect(sheetCommand(SITE, unknown)).rejects.toMatchObject({ exit: 64 });
});
