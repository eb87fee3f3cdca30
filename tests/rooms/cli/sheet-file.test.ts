/** Filled sheets as files: CSV after RFC 4180, or one JSON object. */
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readSheet } from '../../../src/cli/sheet-file.ts';

const folder = mkdtempSync(join(tmpdir(), 'tripwitness-sheet-'));
const read = (text: string) => {
  const path = join(folder, 'sheet');
  writeFileSync(path, text);
  return readSheet(path);
};
const values = async (text: string) => (await read(text)).values;

test('RFC 4180, 2: quoted commas, quotes and line breaks; CRLF or LF; with or without a last line break', async () => {
  expect(await values('a,1\r\n"b, c","x ""y""\r\nz"\r\n')).toEqual({ a: '1', 'b, c': 'x "y"\r\nz' });
  expect(await values('field,value\na,1\nb,2')).toEqual({ a: '1', b: '2' });
  expect(await values('\ufefffield,value\na,1\n\nempty,\n')).toEqual({ a: '1' });
});

test('what is about the sheet is no value of it', async () => {
  const sheet = { sheet: 's4', by: 'Ben Mill', on: 'Monday' };
  const csv = 'sheet,s4\nby,Ben Mill\non,Monday\ntrip point,79.1 rpm\n';
  expect(await read(csv)).toEqual({ ...sheet, values: { 'trip point': '79.1 rpm' } });
  expect(await read(JSON.stringify({ ...sheet, 'trip point': 79.1, guards: true }))).toEqual({
    ...sheet,
    values: { 'trip point': '79.1', guards: 'true' },
  });
});

test.each([
  ['a,1,2\n', 'sheet:1: write one field and its value'],
  ['a,1\nb,"2\n', 'sheet:2: write one field and its value'],
  ['a,1\na,2\n', '"a" stands there twice'],
  ['{"a":', 'is no JSON'],
  ['{"a":{"b":1}}', '"a" must be a text or a number'],
])('%j is refused: %s', async (text, said) => {
  await expect(read(text)).rejects.toThrow(said);
});
