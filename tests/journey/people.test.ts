/** People on a real log: accounts, signatures, corrections, sheets and the register, through the daemon and at the file. */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { readLog } from '../../src/store/index.ts';
import { cli, type DaemonUp, daemonUp, folder, LEG, MAIN, type PlantUp, plantUp } from './rig.ts';

const SECRETS = {
  ROOT_PASSWORD: 'root horse battery',
  ADA_PASSWORD: 'ada correct staple',
  CLEO_PASSWORD: 'cleo river stone!',
  WRONG_PASSWORD: 'certainly not this',
};

// Each command is a process of its own, and most of them take a tenth of a second for a password.
vi.setConfig({ testTimeout: 180_000 });

const dir = folder();
const log = join(dir, 'people.log.db');
// Beside it lie its rules.
const site = join(dirname(LEG), 'people.yaml');
let plant: PlantUp;
let daemon: DaemonUp;
let heard = '';

/** Never waits at a terminal: there is none. */
const run = (...args: string[]) => {
  const ran = spawnSync(process.execPath, [MAIN, ...args], {
    encoding: 'utf8',
    env: { ...process.env, ...SECRETS },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  return { code: ran.status ?? -1, out: ran.stdout, err: ran.stderr };
};
const AS_ROOT = ['--as', 'root', '--password-from', 'ROOT_PASSWORD'];
const addPerson = (id: string, name: string, role: string, from: string, ...as: string[]) =>
  run('people', 'add', log, id, '--name', name, '--role', role, '--new-password-from', from, ...as);
const sign = (id: string, as: string, meaning: string, from: string) =>
  run('sign', log, id, '--as', as, '--meaning', meaning, '--password-from', from, '--json');

const start = async (): Promise<void> => {
  daemon = await daemonUp(log, plant.modbus.port, plant.modbus.host, site);
  daemon.process.stdout?.on('data', (data: Buffer) => {
    heard += data.toString();
  });
  daemon.process.stderr?.on('data', (data: Buffer) => {
    heard += data.toString();
  });
};

beforeAll(async () => {
  writeFileSync(
    site,
    `${readFileSync(LEG, 'utf8')}\nrecords: { independent-reviewer: true, signatures: [performed, reviewed] }\n`,
  );
  plant = await plantUp();
  await start();
});
afterAll(async () => {
  plant.hands.close();
  await Promise.all([plant.end(), daemon.end()]);
});

const openWindow = (people: { name: string; role: 'sensor' | 'reviewer' | 'witness' }[]) =>
  daemon.client.open({
    stimuli: [{ interlock: 'E1.misalignment-stop', method: 'displaced' }],
    people,
    note: 'permit 118',
  });
let window = '';

test('accounts are made through the daemon; the first is an administrator', () => {
  expect(addPerson('ada', 'Ada Post', 'tester', 'ADA_PASSWORD').code).toBe(64);
  expect(addPerson('root', 'Rona Root', 'administrator', 'ROOT_PASSWORD').code).toBe(0);
  expect(addPerson('ada', 'Ada Post', 'tester', 'ADA_PASSWORD').err).toContain('--as');
  expect(addPerson('ada', 'Ada Post', 'tester', 'ADA_PASSWORD', ...AS_ROOT).code).toBe(0);
  const both = run(
    'people',
    'add',
    log,
    'cleo',
    '--name',
    'Cleo Weir',
    '--role',
    'tester',
    'reviewer',
    '--new-password-from',
    'CLEO_PASSWORD',
    ...AS_ROOT,
  );
  expect(both.code).toBe(0);
  expect(JSON.parse(run('people', 'list', log, '--json').out)).toMatchObject([
    { id: 'root' },
    { id: 'ada', roles: ['tester'] },
    { id: 'cleo', roles: ['reviewer', 'tester'] },
  ]);
});

test('a window with a reviewer who also tests is not opened; an open one is not signed', async () => {
  const both = openWindow([
    { name: 'Ada Post', role: 'sensor' },
    { name: 'ada  post', role: 'reviewer' },
  ]);
  await expect(both).rejects.toMatchObject({ code: 'open-not-independent', status: 409 });
  window = (
    await openWindow([
      { name: 'Ada Post', role: 'sensor' },
      { name: 'Ben Mill', role: 'witness' },
    ])
  ).window;
  const attested = {
    code: 'attested',
    by: 'Ben Mill',
    machine: 'E1',
    what: 'horn-heard',
    where: 'head house',
  } as const;
  await daemon.client.mark(window, attested);
  expect(sign(window, 'ada', 'performed', 'ADA_PASSWORD').err).toContain('is open');
  await daemon.client.close(window, 'Ada Post');
});

test('the closed window is signed through the daemon: by who may, with what it takes', () => {
  expect(sign(window, 'ada', 'performed', 'ADA_PASSWORD').code).toBe(0);
  expect(sign(window, 'ada', 'reviewed', 'ADA_PASSWORD').err).toContain('reviewer');
  expect(sign(window, 'cleo', 'reviewed', 'WRONG_PASSWORD').err).toContain('not right');
  expect(run('papers', log, window).code).toBe(2);
  expect(sign(window, 'cleo', 'reviewed', 'CLEO_PASSWORD').code).toBe(0);
  const told = run('papers', log, window);
  expect([told.code, told.out]).toEqual([
    0,
    expect.stringMatching(/Cleo Weir \(cleo\) reviewed the record: ✔\s+covers all/),
  ]);
});

test('without a terminal and without a variable there is no password, and it is no argument', () => {
  const asked = run('sign', log, window, '--as', 'ada', '--meaning', 'witnessed');
  expect([asked.code, asked.err]).toEqual([64, expect.stringContaining('--password-from')]);
  expect(run('sign', log, window, '--as', 'ada', '--meaning', 'witnessed', '--password', 'x').code).toBe(64);
});

test('a correction shows the old text and takes a new signature; evidence is not corrected', () => {
  const reader = readLog(log);
  const own = reader.entriesOf({ window });
  reader.close();
  const seq = (kind: string) => String(own.find((entry) => entry.kind === kind)?.seq);
  const amend = (entry: string, field: string, becomes: string) =>
    run(
      'amend',
      log,
      window,
      '--entry',
      entry,
      '--field',
      field,
      '--becomes',
      becomes,
      '--reason',
      'slip',
      '--by',
      'Ada Post',
    );
  const note = amend(seq('window-opened'), 'body.note', 'permit 119');
  expect([note.code, note.out]).toEqual([
    0,
    expect.stringMatching(/was {2}permit 118\n {2}now {2}permit 119/),
  ]);
  expect(amend(seq('verdict'), 'body.finding.verdict.outcome', 'pass').err).toContain('never corrected');
  expect(amend(seq('trace'), 'body.block', 'x').code).toBe(64);
  const told = run('papers', log, window);
  expect([told.code, told.out]).toEqual([2, expect.stringContaining('missing: performed,')]);
  expect(run('papers', log).out.replaceAll(/\s+/g, ' ')).toContain(
    '(more was entered since); 1 correction; MISSING: performed, reviewed',
  );
});

test('daemon or not, the rules are the same: the rest is entered at the file', async () => {
  await daemon.end();
  expect(existsSync(`${log}-daemon`)).toBe(false);
  expect(sign(window, 'ada', 'performed', 'ADA_PASSWORD').code).toBe(0);
  expect(sign(window, 'ada', 'performed', 'ADA_PASSWORD').err).toContain('signed as performed');
  const sheet = join(dir, 'sheet.csv');
  writeFileSync(
    sheet,
    'field,value\r\nby,Ben Mill\r\non,2026-11-20\r\n"trip point, shown","79.1 ""rpm"""\r\n',
  );
  const copied = run('transcribe', log, window, sheet, '--sheet', 'sheet 4', '--by', 'Cleo Weir', '--json');
  expect(JSON.parse(copied.out)).toMatchObject({
    kind: 'transcribed',
    body: { by: 'Ben Mill', sheet: 'sheet 4', values: { 'trip point, shown': '79.1 "rpm"' } },
  });
  const open = (...more: string[]) =>
    run(
      'register',
      'open',
      log,
      'punch',
      '--on',
      'E1.misalignment-stop',
      '--text',
      'cable loose',
      '--by',
      'Ada',
      ...more,
    );
  expect(open('--category', 'A', '--owner', 'Ada').err).toContain('due');
  expect(open('--category', 'A', '--owner', 'Ada', '--due', '2100-01-01').code).toBe(0);
  const close = run(
    'register',
    'close',
    log,
    'punch-1',
    '--text',
    'mended',
    '--window',
    window,
    '--by',
    'Ada',
  );
  expect([close.code, close.err]).toEqual([64, expect.stringContaining('opened before')]);
  const list = run('register', 'list', log);
  expect([list.code, list.out]).toEqual([
    0,
    expect.stringContaining('punch-1 (A) on E1.misalignment-stop: OPEN'),
  ]);
});

test('five wrong passwords lock the account; an administrator lets it in again', () => {
  for (let time = 0; time < 5; time += 1) sign(window, 'ada', 'witnessed', 'WRONG_PASSWORD');
  expect(sign(window, 'ada', 'witnessed', 'ADA_PASSWORD').err).toContain('locked');
  expect(run('people', 'unlock', log, 'ada', ...AS_ROOT).code).toBe(0);
  expect(sign(window, 'ada', 'witnessed', 'ADA_PASSWORD').code).toBe(0);
  expect(run('people', 'close', log, 'ada', ...AS_ROOT).code).toBe(0);
  expect(sign(window, 'ada', 'witnessed', 'ADA_PASSWORD').err).toContain('not right');
});

test('the log verifies, and the report shows all of it within 80 columns', () => {
  expect(cli('audit', log).code).toBe(0);
  const html = join(dir, 'report.html');
  const report = run('report', log, '--window', window, '--html', html);
  for (const line of report.out.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
  expect(report.out).toContain('NOT COMPLETE');
  const page = readFileSync(html, 'utf8');
  for (const part of ['<del>permit 118</del>', 'Cleo Weir', 'head house', 'sheet 4', 'NOT COMPLETE'])
    expect(page).toContain(part);
});

test('no password is in any file, nor in anything that daemon or commands said', async () => {
  await start();
  const again = sign(window, 'cleo', 'witnessed', 'CLEO_PASSWORD');
  const wrong = sign(window, 'cleo', 'reviewed', 'WRONG_PASSWORD');
  heard += again.out + again.err + wrong.out + wrong.err;
  await daemon.end();
  const files = readdirSync(dir, { recursive: true, withFileTypes: true }).filter((file) => file.isFile());
  expect(files.map(({ name }) => name)).toContain('people.json');
  for (const password of Object.values(SECRETS)) {
    expect(heard).not.toContain(password);
    for (const file of files)
      expect(readFileSync(join(file.parentPath, file.name)).includes(password), file.name).toBe(false);
  }
});
