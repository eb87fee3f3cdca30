import { readFile } from 'node:fs/promises';
import { type Fault, filesWanted, readSite } from '../config/index.ts';
import type { Book } from '../rulebook/index.ts';
import { EXIT, refuseFaults, Stop } from './io.ts';

export interface Loaded {
  readonly book: Book;
  readonly texts: readonly (readonly [string, string])[];
  readonly warnings: readonly Fault[];
}

export const readText = async (path: string): Promise<string> =>
  readFile(path, 'utf8').catch((cause: unknown) => {
    throw new Stop(`${path} cannot be read: ${String(cause)}`, { exit: EXIT.data, cause });
  });

/** A site file and what it names, as far as it is there, by path. */
export const filesOf = async (main: string): Promise<ReadonlyMap<string, string>> => {
  const text = await readText(main);
  const files = new Map([[main, text]]);
  for (const path of filesWanted(text, main)) {
    const found = await readFile(path, 'utf8').catch(() => undefined);
    if (found !== undefined) files.set(path, found);
  }
  return files;
};

/** A site with all the files it names; ends with every fault where there is one. */
export const loadBook = async (main: string, asJson: boolean): Promise<Loaded> => {
  const files = await filesOf(main);
  const read = readSite(files, main);
  return 'faults' in read ? refuseFaults(read.faults, asJson) : read;
};
