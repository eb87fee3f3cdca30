/** Writes the JSON Schemas that editors use, from the schemas that the reader uses. Needs a build. */
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { packSchemaText, siteSchemaText } from '../../dist/config/index.js';

const at = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
writeFileSync(at('config/site.schema.json'), siteSchemaText());
writeFileSync(at('rules/pack.schema.json'), packSchemaText());
