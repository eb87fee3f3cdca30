import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

/** The page that `run` serves: built once into dist/console, complete, so that nothing is asked of any other host. */
export default defineConfig({
  root: fileURLToPath(new URL('../../src/console', import.meta.url)),
  base: './',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: fileURLToPath(new URL('../../dist/console', import.meta.url)),
    emptyOutDir: true,
    target: 'es2022',
    modulePreload: { polyfill: false },
    // Files of their own only: the page allows no data in the place of a script or a font.
    assetsInlineLimit: 0,
    reportCompressedSize: false,
  },
  logLevel: 'warn',
});
