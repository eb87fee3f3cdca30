/** A whole window on the running daemon: live, judged again from the log, audited, reported. */

import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { connect, createServer } from 'node:net';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { WindowVerdict } from '../../src/judge/index.ts';
import { readLog } from '../../src/store/index.ts';
import {
  begin,
  cli,
  type DaemonUp,
  daemonUp,
  folder,
  followed,
  type PlantUp,
  plantUp,
  WHOLE,
} from './rig.ts';

let plant: PlantUp;
let daemon: DaemonUp;
const dir = folder();
const log = join(dir, 'window.log.db');
/** Function codes that passed the wire, by a proxy that reads the requests. */
const codes = new Set<number>();
const proxy = createServer((socket) => {
  const on = connect(plant.modbus.port, plant.modbus.host);
  socket.on('data', (data) => {
    for (let at = 0; at + 8 <= data.length; at += 6 + data.readUInt16BE(at + 4)) codes.add(data[at + 7] ?? 0);
    on.write(data);
  });
  on.on('data', (data) => socket.write(data));
  for (const [one, other] of [
    [socket, on],
    [on, socket],
  ] as const) {
    one.on('error', () => other.destroy());
    one.on('close', () => other.destroy());
  }
});

beforeAll(async () => {
  plant = await plantUp();
  await new Promise<void>((resolve) => proxy.listen(0, '127.0.0.1', resolve));
  // The whole site: a source that never answers is beside.
  daemon = await daemonUp(log, (proxy.address() as AddressInfo).port, undefined, WHOLE);
});
afterAll(async () => {
  plant.hands.close();
  await Promise.all([plant.end(), daemon.end()]);
  proxy.close();
});

test('an alignment switch is proved, and the log stands up', { timeout: 90_000 }, async () => {
  await plant.starts('E1');
  await plant.starts('F1');
  const { window } = await daemon.client.open({
    stimuli: [
      { interlock: 'E1.misalignment-alarm', method: 'displaced' },
      { interlock: 'E1.misalignment-stop', method: 'displaced' },
    ],
    people: [{ name: 'one', role: 'sensor' }],
  });
  const isReady = (name: string) => (shown: { findings: readonly { interlock: string; text: string }[] }) =>
    shown.findings.findLast((one) => one.interlock === name)?.text === 'ready';
  await followed(daemon.client, window, isReady('E1.misalignment-stop'));
  await plant.act({ do: 'screw', machine: 'E1', turned: true });
  await plant.until('E1.motor-running', 0);
  await plant.act({ do: 'screw', machine: 'E1', turned: false });
  await daemon.client.mark(window, { code: 'now', by: 'one', text: 'screw turned back' });
  const trials = (shown: { findings: readonly { finding: { kind: string } }[] }) =>
    shown.findings.filter((one) => one.finding.kind === 'trial').length;
  await followed(daemon.client, window, (shown) => trials(shown) === 2);
  const closed = await daemon.client.close(window, 'one');
  const outcomes = closed.findings.flatMap(({ finding, interlock }) =>
    finding.kind === 'window' ? [[interlock, finding.verdict.outcome]] : [],
  );
  expect(outcomes).toEqual([
    ['E1.misalignment-alarm', 'pass'],
    ['E1.misalignment-stop', 'pass'],
  ]);

  expect(cli('audit', log).code).toBe(0);
  const recheck = cli('recheck', log, '--json');
  expect(recheck.code).toBe(0);
  expect(JSON.parse(recheck.out)).toMatchObject({ ok: true });
  const report = cli('report', log, '--html', join(dir, 'report.html'));
  expect(report.code).toBe(0);
  for (const line of report.out.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
  expect(readFileSync(join(dir, 'report.html'), 'utf8')).toContain('E1.misalignment-stop');
});

test('live, judged again and judged from the exported trace, the verdicts are the same', () => {
  const [trace, marks] = [join(dir, 'window.csv'), join(dir, 'window-marks.yaml')];
  const report = cli('report', log, '--json', '--trace', trace, '--marks', marks);
  const judged = cli('judge', WHOLE, trace, '--marks', marks, '--json');
  expect(judged.code).toBe(report.code);
  const told = JSON.parse(judged.out) as { interlocks: Record<string, unknown>[] };
  const reader = readLog(log);
  const verdicts = reader.parsed().flatMap((entry) => (entry.kind === 'verdict' ? [entry.body] : []));
  reader.close();
  // Names and units stand only in the answer of the command; everything that was judged stands in both.
  const bare = (value: unknown): unknown =>
    JSON.parse(
      JSON.stringify(value, (key, one) => (['unit', 'text', 'interlock'].includes(key) ? undefined : one)),
    );
  expect(verdicts.length).toBe(2);
  verdicts.forEach((body, index) => {
    const { verdict } = (body as unknown as { finding: { verdict: WindowVerdict } }).finding;
    const own = told.interlocks[index];
    expect(own?.['verdict']).toBe(verdict.outcome);
    expect(bare(own?.['reasons'])).toEqual(bare(verdict.reasons));
    expect(bare(own?.['response'])).toEqual(verdict.response);
    expect(own?.['trial']).toBe(verdict.trial);
    const aspects = verdict.aspects.map(({ name, outcome, reason }) => ({
      name,
      verdict: outcome,
      ...reason,
    }));
    expect(bare(own?.['aspects'])).toEqual(bare(aspects));
  });
});

test('a bundle made while the daemon writes needs no log, is judged again, and one byte changed is refused', {
  timeout: 120_000,
}, async () => {
  const { window: named } = JSON.parse(cli('report', log, '--json').out) as { window: string };
  // The log goes on growing under the bundle.
  const next = await daemon.client.open({
    stimuli: [{ interlock: 'E1.misalignment-stop', method: 'displaced' }],
    people: [{ name: 'one', role: 'sensor' }],
  });
  const file = join(dir, 'window.bundle.json');
  // The exit code tells the verdicts; that the bundle is there is what counts here.
  cli('report', log, '--window', named, '--bundle', file);
  await daemon.client.mark(next.window, { code: 'now', by: 'one', text: 'behind the bundle' });

  const elsewhere = join(folder(), 'handed-over.json');
  copyFileSync(file, elsewhere);
  const audit = cli('audit', elsewhere, '--json');
  expect(audit.code).toBe(0);
  expect(JSON.parse(audit.out)).toMatchObject({
    ok: true,
    kind: 'bundle',
    windows: [{ window: named, standing: 'closed' }],
    again: [{ window: named, same: true }],
    damage: [],
  });
  const recheck = cli('recheck', elsewhere);
  expect(recheck.code).toBe(0);
  expect(recheck.out).toContain(`${named}: the same, `);
  expect(recheck.out).toContain('Judged again, the same: 1 window');

  const whole = readFileSync(elsewhere, 'utf8');
  // One byte of what somebody said, of a verdict, of a block, and of the signature.
  const PLACES = [
    /screw turned b/,
    /\\"kind\\":\\"window\\".*?\\"outcome\\":\\"./,
    /"blocks":\{"[0-9a-f]{64}":"..../,
    /"signature":"./,
  ];
  for (const place of PLACES) {
    const { 0: found = '', index = -1 } = place.exec(whole) ?? {};
    expect(index).toBeGreaterThan(0);
    const last = index + found.length - 1;
    const changed = `${whole.slice(0, last)}${whole[last] === '0' ? '1' : '0'}${whole.slice(last + 1)}`;
    writeFileSync(elsewhere, changed);
    const refused = cli('audit', elsewhere);
    expect(refused.code).toBe(1);
    expect(refused.out).toContain('The bundle does NOT verify');
    const again = cli('recheck', elsewhere, '--json');
    expect(again.code).toBe(1);
    expect(JSON.parse(again.out)).toMatchObject({ ok: false, windows: [] });
  }
  await daemon.client.close(next.window, 'one');
});

test('the page and the API answer on this machine only', async () => {
  const url = String(daemon.told['url']);
  expect((await fetch(url)).status).toBe(200);
  expect((await fetch(`${url}/api/now`)).status).toBe(200);
  expect((await fetch(`${url}/api/now`, { headers: { origin: 'http://elsewhere.example' } })).status).toBe(
    403,
  );
  const wrong = await fetch(`${url}/api/windows`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: '{"stimuli":[{"interlock":"X","method":"real"}]}',
  });
  expect(wrong.status).toBe(409);
  expect(((await wrong.json()) as { message: string }).message).toContain('There is no interlock "X"');
});

test('only read functions passed the wire (Modbus functions 1 to 4)', () => {
  expect(codes.size).toBeGreaterThan(0);
  expect([...codes].filter((code) => code < 1 || code > 4)).toEqual([]);
});

test('a second daemon on the same log is refused', async () => {
  await expect(begin('run', WHOLE, '--json', '--log', log, '--port', '0')).rejects.toThrow(/74/);
});
