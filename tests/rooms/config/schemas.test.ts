import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { packSchemaText, siteSchemaText } from '../../../src/config/index.ts';
import { ROOT } from './load.ts';

// After a change of the schemas: npm run build && node tests/tooling/write-schemas.mjs
test('the JSON Schemas for editors are those of the reader', () => {
  expect(readFileSync(`${ROOT}config/site.schema.json`, 'utf8')).toBe(siteSchemaText());
  expect(readFileSync(`${ROOT}rules/pack.schema.json`, 'utf8')).toBe(packSchemaText());
});
