import { readFile } from 'node:fs/promises';
import { filesWanted, readSite, type SiteRead } from '../config/index.ts';

/** Reads a site and every file it names. A file that cannot be read is left out: the site's check then names it. */
export const loadSite = async (main: string): Promise<SiteRead> => {
  const text = await readFile(main, 'utf8');
  const files = new Map([[main, text]]);
  for (const path of filesWanted(text, main)) {
    const found = await readFile(path, 'utf8').catch(() => undefined);
    if (found !== undefined) files.set(path, found);
  }
  return readSite(files, main);
};
