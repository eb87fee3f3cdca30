/** The compiler moves only TypeScript: schemas in SQL, fonts and scripts of reports follow it into dist/ here. */
import { cpSync, readdirSync } from 'node:fs';
import { extname, join, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

const from = fileURLToPath(new URL('../../src', import.meta.url));
const to = fileURLToPath(new URL('../../dist', import.meta.url));
const assets = new Set(['.sql', '.ttf', '.txt']);
for (const entry of readdirSync(from, { recursive: true, withFileTypes: true })) {
  // The page has a builder of its own.
  if (!entry.isFile() || entry.parentPath.startsWith(join(from, 'console') + sep)) continue;
  const wanted = assets.has(extname(entry.name)) || entry.name.endsWith('.client.js');
  if (!wanted) continue;
  const path = join(entry.parentPath, entry.name);
  cpSync(path, path.replace(from, to));
}
