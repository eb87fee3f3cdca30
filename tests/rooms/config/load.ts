import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Fault, filesWanted, readSite, type SiteRead } from '../../../src/config/index.ts';
import type { Book } from '../../../src/rulebook/index.ts';

export const ROOT = fileURLToPath(new URL('../../../', import.meta.url));

/** Reads a site as a command would: the file, and what it names. */
export const load = (main: string): SiteRead => {
  const text = readFileSync(main, 'utf8');
  const files = new Map([[main, text]]);
  for (const path of filesWanted(text, main))
    if (existsSync(path)) files.set(path, readFileSync(path, 'utf8'));
  return readSite(files, main);
};

/** Reads texts that exist only here. */
export const readTexts = (main: string, texts: Readonly<Record<string, string>>): SiteRead =>
  readSite(new Map(Object.entries(texts)), main);

export const faultsOf = (read: SiteRead): readonly Fault[] => ('faults' in read ? read.faults : []);

export const bookOf = (read: SiteRead): Book => {
  if ('book' in read) return read.book;
  throw new Error(`no book: ${JSON.stringify(read.faults, null, 1)}`);
};
