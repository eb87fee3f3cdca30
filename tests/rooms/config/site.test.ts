import { expect, test } from 'vitest';
import { bookOf, faultsOf, load, ROOT } from './load.ts';

test('the demo site gives a book without a fault; what its machines lack is told in one line each', () => {
  const read = load(`${ROOT}config/demo-site.yaml`);
  expect(faultsOf(read)).toEqual([]);
  expect(read.warnings.map(({ code, params }) => [code, params['machine']])).toEqual([
    ['left-out', 'E1'],
    ['left-out', 'F1'],
    ['left-out', 'C2'],
  ]);
  expect(bookOf(read).interlocks.map(({ name }) => name)).toContain('E1.underspeed-stop');
});
