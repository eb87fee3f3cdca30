import { createHash } from 'node:crypto';
import { instant } from '../measure/index.ts';
import type { Paper } from '../print/index.ts';
import { canonicalText, plain, sheetCode, utf8 } from '../record/index.ts';
import { sheetKeys } from '../report/index.ts';
import { chosenInterlocks } from './chosen.ts';
import { EXIT, json, out } from './io.ts';
import { loadBook } from './site.ts';
import { written } from './written.ts';

export interface SheetOptions {
  readonly json: boolean;
  readonly pdf: string;
  readonly paper: Paper;
  readonly interlock: readonly string[];
}

const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** Prints blank sheets; their codes are those that the same site file gives again. */
export const sheetCommand = async (site: string, options: SheetOptions): Promise<number> => {
  const { book } = await loadBook(site, options.json);
  const rules = sha256(utf8(canonicalText(plain(book))));
  const sheets = chosenInterlocks(book, options.interlock).map(({ id, name }) => ({
    interlock: id,
    name,
    code: sheetCode(sha256, { interlock: name, rules }),
  }));
  const { sheetPdf } = await import('../print/index.ts');
  const bytes = await sheetPdf(book, sheets, {
    paper: options.paper,
    printed: instant(Date.now() * 1000),
  });
  await written(options.pdf, bytes, options);
  if (options.json)
    json({
      ok: true,
      file: options.pdf,
      rules,
      sheets: sheets.map(({ interlock, name, code }) => ({
        interlock: name,
        code,
        values: sheetKeys(book, interlock),
      })),
    });
  else for (const { name, code } of sheets) out(`${code}  ${name}`);
  return EXIT.ok;
};
