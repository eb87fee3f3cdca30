/**
 * The one test command: prepares what it needs, then runs types, style, walls, unused code and all tests.
 * Its last line is `N passed, N failed` (`, N skipped`). As root on Debian it installs the independent servers and
 * readers that the tests use; elsewhere it says what is missing. In CI a skipped test is a failure. Arguments go to vitest.
 */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { makeReady, root } from './ready.mjs';

const say = (text) => process.stdout.write(`${text}\n`);
const ci = ['1', 'true'].includes(process.env['CI'] ?? '');
const only = process.argv.slice(2);

const works = (command, args) => spawnSync(command, args, { stdio: 'ignore' }).status === 0;

/** Debian package, what it is for, and how to see that it is there. */
const PROGRAMS = [
  ['gcc', 'to compile the libmodbus server', () => works('gcc', ['--version'])],
  [
    'libmodbus-dev',
    'an independent Modbus server in C',
    () => ['/usr/include', '/usr/local/include'].some((folder) => existsSync(`${folder}/modbus/modbus.h`)),
  ],
  [
    'python3-pymodbus',
    'an independent Modbus server in Python',
    () => works('/usr/bin/python3', ['-c', 'import pymodbus']),
  ],
  ['qpdf', 'an independent reader of PDF', () => works('qpdf', ['--version'])],
  ['poppler-utils', 'an independent reader of PDF', () => works('pdftotext', ['-v'])],
  [
    'python3-openpyxl',
    'an independent reader of spreadsheets',
    () => works('/usr/bin/python3', ['-c', 'import openpyxl']),
  ],
  [
    'python3-cryptography',
    'for the verifier of bundles that is not ours',
    () => works('/usr/bin/python3', ['-c', 'import cryptography']),
  ],
  [
    'chromium',
    'a browser, in which a page verifies itself',
    () => works('chromium', ['--version']) || works('chromium-browser', ['--version']),
  ],
  ['socat', 'for pairs of serial ports', () => works('socat', ['-V'])],
  ['python3-serial', 'for pymodbus', () => works('/usr/bin/python3', ['-c', 'import serial'])],
  [
    'python3-serial-asyncio',
    'for pymodbus',
    () => works('/usr/bin/python3', ['-c', 'import serial_asyncio']),
  ],
];

const preparePrograms = () => {
  const missing = () => PROGRAMS.filter(([, , there]) => !there());
  const names = missing().map(([name]) => name);
  if (names.length === 0) return;
  const debian = existsSync('/etc/debian_version') && process.getuid?.() === 0;
  if (debian) {
    say(`Installing ${names.join(', ')} …`);
    const options = { stdio: ['ignore', 2, 2], env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } };
    spawnSync('apt-get', ['update', '-qq'], options);
    spawnSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...names], options);
  }
  for (const [name, what] of missing())
    say(`Missing: ${name} (${what}). The suites that need it are skipped.`);
};

const bin = (name) => join(root, 'node_modules', '.bin', name);

/** [name, command, arguments]. One row after the other, beside the other lane; types of page and tests need those before. */
const LANES = [
  [
    ['types', bin('tsc'), ['-b']],
    ['types of the page', bin('tsc'), ['-p', 'src/tsconfig.console.json']],
    ['types of tests', bin('tsc'), ['-p', 'tests']],
  ],
  [
    ['style', bin('biome'), ['check', '--config-path=tests/tooling/style.jsonc', '.']],
    ['walls', bin('depcruise'), ['--config', 'tests/tooling/walls.cjs', 'src']],
    ['unused code', bin('knip'), ['--config', 'tests/tooling/knip.json']],
  ],
];

const check = ([name, command, args]) =>
  new Promise((resolve) => {
    const child = spawn(command, args, { cwd: root, shell: process.platform === 'win32' });
    let told = '';
    const hear = (data) => {
      told += data;
    };
    child.stdout.on('data', hear);
    child.stderr.on('data', hear);
    child.on('error', hear);
    child.on('close', (code) => {
      say(`${code === 0 ? 'passed' : 'FAILED'}  ${name}`);
      if (code !== 0) say(told);
      resolve(code === 0);
    });
  });

const checkLane = async (lane) => {
  const results = [];
  for (const one of lane) results.push(await check(one));
  return results;
};

const runTests = () => {
  const folder = mkdtempSync(join(tmpdir(), 'tripwitness-tests-'));
  const file = join(folder, 'results.json');
  const args = ['run', '--config', 'tests/tooling/vitest.config.ts', '--reporter=verbose', '--reporter=json'];
  const done = spawnSync(bin('vitest'), [...args, `--outputFile.json=${file}`, ...only], {
    cwd: root,
    stdio: 'inherit',
    shell: process.platform === 'win32',
  });
  const told = existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : undefined;
  rmSync(folder, { recursive: true, force: true });
  if (told === undefined) return { passed: 0, failed: 1, skipped: 0 };
  const skipped = told.numPendingTests + told.numTodoTests;
  // A file that cannot be loaded has no failed test of its own; it is a failure all the same.
  const broken = told.testResults.filter(
    (one) => one.status === 'failed' && one.assertionResults.every((each) => each.status !== 'failed'),
  ).length;
  const failed = told.numFailedTests + broken;
  return { passed: told.numPassedTests, failed: failed === 0 && done.status !== 0 ? 1 : failed, skipped };
};

makeReady();
preparePrograms();
const checks = only.length > 0 ? [] : (await Promise.all(LANES.map(checkLane))).flat();
const tests = runTests();
const passed = tests.passed + checks.filter(Boolean).length;
const failed = tests.failed + checks.filter((good) => !good).length;
if (tests.skipped > 0)
  say(ci ? 'In CI a skipped test is a failure.' : 'The skipped suites say above what they miss.');
say(`${passed} passed, ${failed} failed${tests.skipped > 0 ? `, ${tests.skipped} skipped` : ''}`);
process.exitCode = failed > 0 || (ci && tests.skipped > 0) ? 1 : 0;
