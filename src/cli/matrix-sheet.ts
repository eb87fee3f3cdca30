import { readFile, stat } from 'node:fs/promises';
import type { MatrixProved } from '../print/index.ts';
import type { Book } from '../rulebook/index.ts';
import { text } from '../words/index.ts';
import { hung } from './hung.ts';
import { EXIT, json, out, Stop } from './io.ts';
import { loadBook } from './site.ts';
import { written } from './written.ts';

/** No sheet of causes and effects is larger; a larger file is read by nobody here. */
const MOST_BYTES = 20_000_000;

const bytesOf = async (path: string): Promise<Uint8Array> => {
  try {
    if ((await stat(path)).size > MOST_BYTES)
      throw new Stop(`${path} is larger than 20 MB: that is no sheet of causes and effects`, {
        exit: EXIT.data,
      });
    return await readFile(path);
  } catch (cause) {
    if (cause instanceof Stop) throw cause;
    throw new Stop(`${path} cannot be read: ${String(cause)}`, { exit: EXIT.data, cause });
  }
};

/** Writes causes and effects of some machines, or of all, as a spreadsheet, with what is proved where that is known. */
export const writeMatrixSheet = async (
  book: Book,
  path: string,
  options: { readonly json: boolean; readonly machine: readonly string[] },
  proved?: MatrixProved,
): Promise<void> => {
  const { matrixXlsx } = await import('../print/index.ts');
  await written(path, await matrixXlsx(book, proved, new Set(options.machine)), options);
};

export interface CompareOptions {
  readonly json: boolean;
  readonly from: string;
  readonly machine: readonly string[];
}

/** Ends where a name is that of no machine. */
export const refuseStrangeMachines = (book: Book, machines: readonly string[]): void => {
  const names = book.machines.map(({ name }) => name);
  const strange = machines.find((name) => !names.includes(name));
  if (strange === undefined) return;
  throw new Stop(`there is no machine ${strange} in the rulebook; there are: ${names.join(', ')}`, {
    exit: EXIT.usage,
  });
};

/** Holds a spreadsheet against the rulebook of a site: 0 where both say the same, 1 where not. */
export const compareMatrixSheet = async (
  site: string,
  { json: asJson, from, machine }: CompareOptions,
): Promise<number> => {
  const { book } = await loadBook(site, asJson);
  refuseStrangeMachines(book, machine);
  const { readMatrixXlsx } = await import('../print/index.ts');
  const { compareSheet } = await import('../report/index.ts');
  const rows = await readMatrixXlsx(await bytesOf(from));
  if (rows === undefined)
    throw new Stop(`${from} is no xlsx file that can be read: save it as .xlsx, without a password`, {
      exit: EXIT.data,
    });
  const { differences, faults, same } = compareSheet(book, rows, new Set(machine));
  const told = (all: typeof differences) => all.map((one) => ({ ...one, text: text(one) }));
  if (asJson)
    json({
      ok: differences.length === 0 && faults.length === 0,
      same,
      differences: told(differences),
      faults: told(faults),
    });
  else {
    for (const one of [...faults, ...differences]) for (const line of hung(text(one), '- ')) out(line);
    out(
      faults.length === 0
        ? `${same} marks the same, ${differences.length} ${differences.length === 1 ? 'difference' : 'differences'}`
        : `${faults.length} ${faults.length === 1 ? 'cell' : 'cells'} of ${from} cannot be understood`,
    );
  }
  if (faults.length > 0) return EXIT.data;
  return differences.length === 0 ? EXIT.ok : EXIT.fail;
};
