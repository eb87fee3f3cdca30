/** Blank sheets, read back by qpdf and poppler. */
import { describe, expect, test } from 'vitest';
import { instant } from '../../../src/measure/index.ts';
import { type Sheet, sheetPdf } from '../../../src/print/index.ts';
import { readFingerprint, sheetCode } from '../../../src/record/index.ts';
import { sheetKeys } from '../../../src/report/index.ts';
import { sha256 } from '../../../src/store/index.ts';
import { KINDS } from '../report/kinds.ts';
import { SAMPLE } from '../report/sample.ts';
import { outside, overlapping, readers, readPdf, withoutReaders } from './readers.ts';

// 1764063000 s after 1970: 2025-11-25T09:30:00Z, by `date -u -d @1764063000`.
const PRINTED = instant(1_764_063_000_000_000);

const sheetsOf = ({ book, bookHash }: typeof SAMPLE): readonly Sheet[] =>
  book.interlocks.map(({ id, name }) => ({
    interlock: id,
    code: sheetCode(sha256, { interlock: name, rules: bookHash }),
  }));

const squeezed = (text: string): string => text.replaceAll(/\s+/g, '');

describe.skipIf(!readers)(`as other programs read them${withoutReaders}`, () => {
  test.each(['a4', 'letter'] as const)(
    '%s: an interlock a page, all of it inside the page',
    async (paper) => {
      const sheets = sheetsOf(SAMPLE);
      const read = readPdf(await sheetPdf(SAMPLE.book, sheets, { paper, printed: PRINTED }));
      expect(read.complaints).toBe('');
      expect(read.pages).toHaveLength(sheets.length);
      SAMPLE.book.interlocks.forEach(({ name, effects }, index) => {
        const page = read.pages[index] ?? '';
        expect(page).toContain(name);
        expect(page).toContain(sheets[index]?.code);
        for (const effect of effects) expect(page).toContain(effect.name);
        expect(page).toContain(`page ${index + 1} of ${sheets.length}`);
        expect(page).toContain('printed 2025-11-25 09:30 UTC');
        expect(squeezed(page)).toContain('Calibrationdue');
        expect(squeezed(page)).toContain('takeitoutofservice,reporttheimpairment');
      });
      expect(read.pages[0]).toContain('82 % of normal');
      expect(read.pages[0]).toContain('1.5 % of normal');
      expect(read.pages[0]).toContain('1910.272(q)(5)');
      expect(read.pages[2]).toContain('1.5 K');
      expect(outside(read, 24)).toEqual([]);
      expect(overlapping(read)).toEqual([]);
    },
  );

  test('causes of every kind have a sheet', async () => {
    const read = readPdf(await sheetPdf(KINDS.book, sheetsOf(KINDS), { paper: 'a4', printed: PRINTED }));
    expect(read.bookmarks.map(([title]) => title)).toEqual(KINDS.book.interlocks.map(({ name }) => name));
    expect(outside(read, 24)).toEqual([]);
    expect(overlapping(read)).toEqual([]);
  });
});

test('a code belongs to one interlock under one rulebook, and is read back as somebody types it', () => {
  const code = sheetCode(sha256, { interlock: 'E1.stop', rules: 'ab' });
  expect(code).not.toBe(sheetCode(sha256, { interlock: 'E1.stop', rules: 'ac' }));
  expect(code).not.toBe(sheetCode(sha256, { interlock: 'E1.alarm', rules: 'ab' }));
  expect(readFingerprint(code.toLowerCase().replaceAll('-', ' '))).toBe(code);
});

test('every box has a name of its own to enter it under', () => {
  for (const { id } of SAMPLE.book.interlocks) {
    const keys = sheetKeys(SAMPLE.book, id);
    expect(new Set(keys).size).toBe(keys.length);
    expect(keys).toContain('as-found-trip-point');
    for (const key of keys) expect(key).toMatch(/^[a-z0-9.-]+$/);
  }
});

test('the same sheets give the same bytes', async () => {
  const sheets = sheetsOf(SAMPLE);
  const make = (): Promise<Uint8Array> => sheetPdf(SAMPLE.book, sheets, { paper: 'a4', printed: PRINTED });
  expect(Buffer.compare(await make(), await make())).toBe(0);
});
