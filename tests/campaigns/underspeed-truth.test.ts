/** A slice of the campaign; the whole of it: `npx vitest run … tests/campaigns` with TRIPWITNESS_PLANTS=20000. */
import { expect, test } from 'vitest';
import { campaign } from './underspeed-truth.ts';

test('over random plants no false pass and no false fail', { timeout: 3_600_000 }, () => {
  const count = Number(process.env['TRIPWITNESS_PLANTS'] ?? '150');
  const { counts, wrong } = campaign(1, count);
  console.log(JSON.stringify(counts));
  expect(wrong).toEqual([]);
  expect(counts['good:pass'] ?? 0).toBeGreaterThan(0);
  expect(counts['bad:fail'] ?? 0).toBeGreaterThan(0);
});
