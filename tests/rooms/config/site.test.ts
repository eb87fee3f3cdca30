import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { bookOf, faultsOf, load, ROOT, readTexts } from './load.ts';

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

test('what a site asks of its records stands in the book, in one order; a site that asks nothing has none of it', () => {
  const text = (records: string): string =>
    `site: mill\nsources: { t: { protocol: trace, scan: 50 ms } }\nrules: [leg.yaml]\n${records}`;
  const leg = readFileSync(`${ROOT}tests/rulebooks/good/leg.yaml`, 'utf8');
  const recordsOf = (records: string) =>
    bookOf(readTexts('site.yaml', { 'site.yaml': text(records), 'leg.yaml': leg })).records;
  expect(recordsOf('')).toBeUndefined();
  expect(recordsOf('records: { signatures: [reviewed, performed, reviewed] }')).toEqual({
    independentReviewer: false,
    signatures: ['performed', 'reviewed'],
  });
  expect(recordsOf('records: { independent-reviewer: true }')).toEqual({
    independentReviewer: true,
    signatures: [],
  });
});
