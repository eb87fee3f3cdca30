import { expect, test } from 'vitest';
import { bookOf, faultsOf, load, ROOT } from './load.ts';

test('the demo site gives a book without a fault or a warning', () => {
  const read = load(`${ROOT}config/demo-site.yaml`);
  expect(faultsOf(read)).toEqual([]);
  expect(read.warnings).toEqual([]);
  expect(bookOf(read).interlocks.map(({ name }) => name)).toContain('E1.underspeed-stop');
});
