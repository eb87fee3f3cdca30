import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { filesWanted, readSite } from '../../../src/config/index.ts';

const root = fileURLToPath(new URL('../../../', import.meta.url));

export const load = (main: string) => {
  const text = readFileSync(main, 'utf8');
  const files = new Map([[main, text]]);
  for (const path of filesWanted(text, main)) files.set(path, readFileSync(path, 'utf8'));
  return readSite(files, main);
};

test('the demo site gives a book without a warning', () => {
  const read = load(`${root}config/demo-site.yaml`);
  expect('faults' in read ? read.faults : []).toEqual([]);
  expect(read.warnings).toEqual([]);
});
