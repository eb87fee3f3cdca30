/** What `judge --scenario` and `check --self-test` print, and how they end. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { rehearseCommand } from '../../../src/cli/rehearse.ts';
import { selfTestCommand } from '../../../src/cli/self-test.ts';
import { ROOT } from '../config/load.ts';
import { load, scenarioOf } from './load.ts';

let folder = '';
let printed = '';

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tripwitness-scenarios-'));
  printed = '';
  vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    printed += String(text);
    return true;
  });
});

afterEach(() => {
  vi.restoreAllMocks();
  rmSync(folder, { recursive: true, force: true });
});

const scenario = (name: string, text: string): string => {
  const file = join(folder, name);
  writeFileSync(file, text);
  return file;
};

/** What was printed, with broken lines put together. */
const joined = (): string => printed.replaceAll(/\n? {2,}/g, ' ').replaceAll('\n ', '\n');

const STOP = `scenario: A displaced belt stops the leg
machine E1: ${ROOT}tests/scenarios/rules/contacts.yaml
lasts: 24 s
E1.alignment: aligned; displaced from 8 s to 14 s
acts: E1.misalignment-stop from 10 s, clears at 14 s, reset at 17 s, start at 19 s
`;

test('all as expected ends with 0', async () => {
  const file = scenario('good.scenario', `${STOP}expect E1.misalignment-stop: pass\n`);
  expect(await rehearseCommand([file], { json: false })).toBe(0);
  expect(joined()).toBe(`ok ${file}: A displaced belt stops the leg\n1 scenario, all as expected.\n`);
});

test('what came otherwise is told with its line and the reasons of the judge, and ends with 1', async () => {
  const good = scenario('good.scenario', `${STOP}expect E1.misalignment-stop: pass\n`);
  const bad = scenario(
    'bad.scenario',
    `${STOP}expect E1.misalignment-stop: fail
expect E1.misalignment-stop: pass because effect-missing
expect E1.misalignment-stop trial 3: pass
expect E1.misalignment-stop trials: 4
expect E1.misalignment-stop as-found: fail
expect E1.misalignment-stop proves: horn
expect E1.misalignment-stop no-such-aspect: pass
expect E1.misalignment-stop tells: moved-unready
expect never-tells: trial-began
`,
  );
  expect(await rehearseCommand([good, bad], { json: false })).toBe(1);
  const told = (line: number, text: string): void => expect(joined()).toContain(`${bad}:${line}: ${text}`);
  told(6, 'E1.misalignment-stop: expected fail, came pass.');
  told(7, 'E1.misalignment-stop: pass as expected, but not for this reason: effect-missing.');
  told(8, 'E1.misalignment-stop, trial 3: expected pass, but no verdict came.');
  told(9, 'E1.misalignment-stop: expected 4 trials, came 1.');
  told(10, 'E1.misalignment-stop, as found: expected fail, came pass.');
  told(11, 'E1.misalignment-stop: expected to prove horn, proved ');
  told(12, 'E1.misalignment-stop: nothing was judged as no-such-aspect.');
  told(13, 'E1.misalignment-stop: moved-unready was never told.');
  told(14, 'trial-began was told, but must not be.');
  expect(joined()).toContain('effect-in-time: E1.run-command came in ');
  // Only a path may be longer than the screen is wide.
  expect(printed.split('\n').every((line) => line.length <= 80 || line.includes(folder))).toBe(true);
  expect(printed).toMatch(/2 scenarios, 1 otherwise than expected\.\n$/);
});

test('a faulty file ends with 65, and nothing is played', async () => {
  const file = scenario('faulty.scenario', `${STOP}expect E1.misalignment-stop: passes\n`);
  await expect(rehearseCommand([file], { json: false })).rejects.toMatchObject({ exit: 65 });
  expect(printed).toBe(
    `${file}:6:30: "passes" is not one of pass, fail, inconclusive, not-tested. Did you mean "pass"?\n`,
  );
});

test('as JSON: files, what differs, and why', async () => {
  const file = scenario('bad.scenario', `${STOP}expect E1.misalignment-stop: fail\n`);
  expect(await rehearseCommand([file], { json: true })).toBe(1);
  const told = JSON.parse(printed);
  expect(told).toMatchObject({
    exit: 1,
    scenarios: [{ file, ok: false, differences: [{ line: 6, code: 'rehearsal-other-verdict' }] }],
  });
  expect(told.scenarios[0].differences[0].because[0]).toHaveProperty('text');
});

test('the self-test says how many wrong ways were told, in at most 80 columns', () => {
  const file = scenario('good.scenario', `${STOP}expect E1.misalignment-stop: pass\n`);
  const { book } = scenarioOf(load(file)).play;
  const own = book.interlocks
    .filter(({ name }) => name === 'E1.misalignment-stop')
    .map((one) => ({ ...one, id: 0 as never }));
  expect(selfTestCommand({ ...book, interlocks: own }, { json: false })).toBe(0);
  expect(printed).toMatch(/\n {2}E1\.misalignment-stop {2}(\d+) of \1 wrong ways told\n/);
  const odd = own.map((one) => ({ ...one, cause: { kind: 'tide', signal: one.cause.signal } as never }));
  printed = '';
  expect(selfTestCommand({ ...book, interlocks: odd }, { json: false })).toBe(2);
  expect(printed).toContain('no rehearsal for this kind of cause yet (tide)');
  expect(printed.split('\n').every((line) => line.length <= 80)).toBe(true);
});
