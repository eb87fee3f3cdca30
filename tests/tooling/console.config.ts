import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { defineConfig } from 'vite';
import { mayAct } from './pure.ts';

const BUILT = fileURLToPath(new URL('../../dist/console', import.meta.url));

/** What is asked for again and again is compressed once, here. */
const compressed = {
  name: 'compressed',
  closeBundle(): void {
    for (const entry of readdirSync(BUILT, { recursive: true, withFileTypes: true })) {
      if (!entry.isFile() || !/\.(js|css|svg|html)$/.test(entry.name)) continue;
      const path = join(entry.parentPath, entry.name);
      const bytes = readFileSync(path);
      writeFileSync(`${path}.br`, brotliCompressSync(bytes));
      writeFileSync(`${path}.gz`, gzipSync(bytes, { level: 9 }));
    }
  },
};

/** The page that `run` serves: built once into dist/console, complete, so that nothing is asked of any other host. */
export default defineConfig({
  root: fileURLToPath(new URL('../../src/console', import.meta.url)),
  base: './',
  plugins: [compressed],
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: BUILT,
    emptyOutDir: true,
    target: 'es2022',
    modulePreload: { polyfill: false },
    // Files of their own only: the page allows no data in the place of a script or a font.
    assetsInlineLimit: 0,
    reportCompressedSize: false,
    rolldownOptions: {
      treeshake: { moduleSideEffects: mayAct },
    },
  },
  logLevel: 'warn',
});
