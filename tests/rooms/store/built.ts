import { spawnSync } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../..', import.meta.url));
const at = (path: string): string => join(root, path);

const run = (...args: readonly string[]): string => {
  const { stdout, stderr } = spawnSync(process.execPath, args, { cwd: root, encoding: 'utf8' });
  return stdout + stderr;
};

/**
 * Workers run from the compiled files. The compiler itself finds out what is old; it also writes what has type errors,
 * which are another check's business. What matters here: that this room's files are there, and not older than the source.
 */
export const builtFolder = (): string => {
  const told = run(at('node_modules/typescript/bin/tsc'), '-b') + run(at('tests/tooling/copy-assets.mjs'));
  const built = ['dist/store/log.worker.js', 'dist/store/schema.sql', 'dist/record/verify.js'];
  if (!built.every((path) => existsSync(at(path)))) throw new Error(`the build left no log writer:\n${told}`);
  const looked = Math.max(
    ...['core', 'edge'].map((name) => statSync(at(`dist/.${name}.tsbuildinfo`)).mtimeMs),
  );
  for (const name of [
    'store/log.worker',
    'store/log-core',
    'store/read',
    'record/verify',
    'record/chain/tree',
  ]) {
    const times = [`src/${name}.ts`, `dist/${name}.js`].map((path) => statSync(at(path)).mtimeMs);
    if ((times[0] ?? 0) > Math.max(times[1] ?? 0, looked))
      throw new Error(`${name} was not compiled:\n${told}`);
  }
  return at('dist');
};
