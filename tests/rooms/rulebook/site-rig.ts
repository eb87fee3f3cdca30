/** A site and one pack as text, to a book. */
import { readSite } from '../../../src/config/index.ts';
import type { Book } from '../../../src/rulebook/index.ts';

export const bookOf = (site: string, pack: string): Book => {
  const read = readSite(
    new Map([
      ['s.yaml', site],
      ['leg.yaml', pack],
    ]),
    's.yaml',
  );
  if ('faults' in read) throw new Error(JSON.stringify(read.faults));
  return read.book;
};
