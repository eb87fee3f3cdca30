import { rmSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { defineConfig, type EnvironmentOptions, normalizePath } from 'vite';
import { mayAct } from './pure.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const SRC = `${normalizePath(join(ROOT, 'src'))}/`;
const BUILT = join(ROOT, 'dist');

/** Written in plain JavaScript and loaded by nearly every command, from up to a hundred files each. */
const TAKEN_ALONG = ['canonicalize', 'commander', 'js-quantities', 'yaml', 'zod'];

/** What begins by itself. Each is built alone, since whoever imports what it shares with another would begin it too. */
const PARTS = {
  main: 'cli/main.ts',
  log: 'store/log.worker.ts',
  desk: 'daemon/desk/desk.worker.ts',
  review: 'daemon/review/review.worker.ts',
} as const;

/** Where a part stands in `dist`, beside what it loads later. */
const placeOf = (part: string, path: string): string => `program/${part}/${basename(path, '.ts')}.js`;

/** In the place of the compiler's `cli/main.js`. */
const STUB = `#!/usr/bin/env node\nimport '../${placeOf('main', PARTS.main)}';\n`;

const partOf = (part: string, path: string): EnvironmentOptions => ({
  consumer: 'server',
  resolve: { noExternal: TAKEN_ALONG },
  build: {
    outDir: BUILT,
    emptyOutDir: false,
    copyPublicDir: false,
    target: 'node20',
    minify: false,
    reportCompressedSize: false,
    license: { fileName: `program/${part}/licences.md` },
    rolldownOptions: {
      input: join(SRC, path),
      output: { entryFileNames: placeOf(part, path), chunkFileNames: `program/${part}/[name]-[hash].js` },
      treeshake: { moduleSideEffects: mayAct },
      // One part may load at once what another loads later.
      checks: { ineffectiveDynamicImport: false },
    },
  },
});

/**
 * Modules move into `program/PART`. What they find beside themselves stays where the compiler and `copy-assets` have put it;
 * only workers move with them.
 */
const places = {
  name: 'places',
  transform(code: string, id: string): string | undefined {
    if (!id.startsWith(SRC)) return undefined;
    const own = id.slice(SRC.length);
    return code.replaceAll(/new URL\(([^,]+), import\.meta\.url\)/g, (_, what: string) => {
      const worker = Object.entries(PARTS).find(([, path]) => what.includes(basename(path, '.ts')));
      return worker === undefined || worker[0] === 'main'
        ? `new URL(${what}, new URL('../../${own}', import.meta.url))`
        : `new URL('../../${placeOf(...worker)}', import.meta.url)`;
    });
  },
};

/** The program in few files: most of the time of a short command went into opening many. */
export default defineConfig({
  root: ROOT,
  plugins: [places],
  environments: Object.fromEntries(Object.entries(PARTS).map(([part, path]) => [part, partOf(part, path)])),
  builder: {
    async buildApp({ build, environments }) {
      rmSync(join(BUILT, 'program'), { recursive: true, force: true });
      for (const part of Object.keys(PARTS).reverse()) {
        const environment = environments[part];
        if (environment !== undefined) await build(environment);
      }
      writeFileSync(join(BUILT, 'cli/main.js'), STUB);
    },
  },
  logLevel: 'warn',
});
