/** The compiler moves only TypeScript: schemas in SQL, pages and styles follow it into dist/ here. */
import { cpSync, readdirSync } from 'node:fs';
import { extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const from = fileURLToPath(new URL('../../src', import.meta.url));
const to = fileURLToPath(new URL('../../dist', import.meta.url));
const assets = new Set(['.sql', '.html', '.css', '.svg', '.client.js', '.ttf', '.txt']);
for (const entry of readdirSync(from, { recursive: true, withFileTypes: true })) {
  if (!entry.isFile()) continue;
  const wanted = assets.has(extname(entry.name)) || entry.name.endsWith('.client.js');
  if (!wanted) continue;
  const path = join(entry.parentPath, entry.name);
  cpSync(path, path.replace(from, to));
}
