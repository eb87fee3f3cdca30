/**
 * Makes a fresh clone ready: installs what package-lock.json names and builds, each only where it is missing or older
 * than what it is made from. Uses nothing but Node itself, because nothing else is there yet.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../..', import.meta.url));

const at = (...parts) => join(root, ...parts);
const timeOf = (path) => (existsSync(path) ? statSync(path).mtimeMs : 0);

const say = (text) => process.stderr.write(`${text}\n`);

/** npm as a script of this Node where it is one, so that no shell stands between. */
const npm = (args) => {
  const script = process.env['npm_execpath'];
  const own = script !== undefined && /\.c?js$/.test(script);
  const [command, all] = own ? [process.execPath, [script, ...args]] : ['npm', args];
  return spawnSync(command, all, {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: !own && process.platform === 'win32',
  });
};

const stop = (text) => {
  say(text);
  process.exit(1);
};

const checkNode = () => {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  if (major > 20 || (major === 20 && minor >= 19)) return;
  stop(`Node ${process.versions.node} is too old: 20.19 or newer is needed.`);
};

const newestUnder = (folder) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .reduce((newest, entry) => Math.max(newest, timeOf(join(entry.parentPath ?? entry.path, entry.name))), 0);

const install = () => {
  const installed = timeOf(at('node_modules', '.package-lock.json'));
  if (installed > 0 && installed >= timeOf(at('package-lock.json'))) return;
  say(installed === 0 ? 'Installing dependencies (once; npm ci) …' : 'package-lock.json is newer: npm ci …');
  if (npm(['ci', '--no-audit', '--no-fund']).status !== 0) {
    stop('npm ci did not succeed. It needs the package registry once; its own words stand above.');
  }
};

/** Written last of all that the program is made of. */
const PROGRAM = at('dist', 'program', 'main', 'licences.md');

const build = () => {
  // The page is the last that a build writes, and always written: its compiler leaves what did not change as it is.
  const stamp = timeOf(at('dist', 'console', 'index.html'));
  const parts = [
    at('dist', 'cli', 'main.js'),
    PROGRAM,
    at('dist', 'store', 'schema.sql'),
    at('dist', 'console', 'index.html'),
  ];
  const built = parts.every((part) => existsSync(part));
  if (built && stamp >= newestUnder(at('src'))) return;
  say('Building …');
  if (npm(['run', '--silent', 'build']).status !== 0)
    stop('The build did not succeed; its errors stand above.');
};

/**
 * Puts the program together again where a source is newer; builds everything where nothing is there. What tests start as a user
 * does is never older than what they import.
 */
export const makeProgram = () => {
  if (!existsSync(PROGRAM)) return build();
  if (timeOf(PROGRAM) >= newestUnder(at('src'))) return undefined;
  if (npm(['run', '--silent', 'program']).status !== 0)
    stop('The program could not be put together; errors stand above.');
};

export const makeReady = () => {
  checkNode();
  install();
  build();
};

if (process.argv[1] === fileURLToPath(import.meta.url)) makeReady();
