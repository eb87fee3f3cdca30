import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { defineConfig } from 'vite';

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

const { PURE } = createRequire(import.meta.url)('./rooms.cjs') as { readonly PURE: readonly string[] };
const pure = new RegExp(`/src/(${PURE.join('|')})/`);

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
      treeshake: {
        // A pure room does nothing when it is imported: of its modules only what the page uses is taken along.
        moduleSideEffects: (id) => !pure.test(id),
      },
    },
  },
  logLevel: 'warn',
});
