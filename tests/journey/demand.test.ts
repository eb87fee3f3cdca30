/** A real trip that nobody announced: kept, judged by the same rules, and told at once where the protection is not there. */
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Now } from '../../src/api/index.ts';
import { readLog } from '../../src/store/index.ts';
import { bothUp, cli, folder, once } from './rig.ts';

const log = join(folder(), 'demand.log.db');

const up = bothUp(log);

/** The daemon's state once `enough` says so. */
const nowWhen = (enough: (now: Now) => boolean): Promise<Now> => once(() => up.daemon.client.now(), enough);

/** Start-up inhibit (6 s), baseline (2 s) and something over: the plant has run undisturbed for so long, in seconds. */
const SETTLED = 11;

const runLeg = async (): Promise<void> => {
  await up.plant.starts('E1');
  await up.plant.starts('F1');
  const began = (await up.plant.state())['seconds'] ?? 0;
  await once(up.plant.state, ({ seconds = 0 }) => seconds >= began + SETTLED);
};

const resetLeg = async (): Promise<void> => {
  await up.plant.act({ do: 'slip', machine: 'E1', share: 0 });
  await up.plant.act({ do: 'reset', machine: 'E1' });
  await up.plant.until('E1.tripped', 0);
};

/** What the log says of each of its windows. */
const outcomesIn = (id: string): Record<string, unknown> => {
  const report = cli('report', log, '--window', id, '--json');
  return JSON.parse(report.out) as Record<string, unknown>;
};

const rechecked = (): unknown => JSON.parse(cli('recheck', log, '--json').out);

let record = '';

test('a belt that slips trips the leg: recorded, judged, audited, reported', {
  timeout: 120_000,
}, async () => {
  await runLeg();
  expect((await up.daemon.client.now()).demands).toEqual([]);
  // Common practice, no source: a belt that slips by a quarter is far beyond any underspeed set point.
  await up.plant.act({ do: 'slip', machine: 'E1', share: 0.25 });
  await up.plant.until('E1.motor-running', 0);
  const open = await nowWhen((now) => now.window !== undefined);
  expect(open.window).toMatchObject({ id: expect.stringMatching(/^d\d{8}T\d{6}-\d{3}$/), demand: true });
  record = open.window?.id ?? '';
  expect((await up.daemon.client.show(record)).demand).toBe(true);
  await resetLeg();
  await runLeg();
  const closed = await nowWhen((now) => now.window === undefined);
  expect(closed.demands).toMatchObject([{ id: record, standing: 'closed' }]);
  const stop = closed.demands[0]?.interlocks.find(({ name }) => name === 'E1.underspeed-stop');
  expect(stop?.outcome).toBeDefined();
  expect(stop?.outcome).not.toBe('fail');

  const { findings } = await up.daemon.client.show(record);
  const told = findings.filter(({ finding }) => finding.kind === 'trial' || finding.kind === 'window');
  expect(told.map(({ interlock }) => interlock)).toContain('E1.underspeed-stop');
  expect(told.every(({ finding }) => finding.demand === true)).toBe(true);
  expect(findings.filter(({ finding }) => finding.kind === 'contradiction')).toEqual([]);

  expect(rechecked()).toMatchObject({ ok: true, windows: [{ window: record, same: true }] });
  expect(cli('audit', log).code).toBe(0);
  const report = outcomesIn(record);
  expect(JSON.stringify(report)).toContain('E1.underspeed-stop');
  const shown = cli('window', 'show', record, '--daemon', String(up.daemon.told['url']));
  expect(shown.out).toMatch(/demand, closed/);
  for (const line of shown.out.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
});

test('a stop that does not come is told while its cause stands; a test window ends the record', {
  timeout: 120_000,
}, async () => {
  await up.plant.act({ do: 'program-change', fault: 'alarm-without-shutdown' });
  await up.plant.act({ do: 'slip', machine: 'E1', share: 0.25 });
  const alarmed = await nowWhen((now) => now.contradictions.some(({ dangerous }) => dangerous));
  expect(await up.plant.state()).toMatchObject({ 'E1.motor-running': 1 });
  expect(alarmed.contradictions[0]).toMatchObject({ machine: 'E1', interlock: 'E1.underspeed-stop' });
  expect(alarmed.contradictions[0]?.text).toContain('Stop the machine');
  const second = alarmed.window?.id ?? '';
  expect([second.startsWith('d'), second === record]).toEqual([true, false]);

  const { window, plan } = await up.daemon.client.open({
    stimuli: [{ interlock: 'E1.misalignment-alarm', method: 'displaced' }],
  });
  expect(plan.map(({ interlock }) => interlock)).toEqual(['E1.misalignment-alarm']);
  expect((await up.daemon.client.show(second)).standing).toBe('closed');
  const during = await up.daemon.client.now();
  expect(during.window).toMatchObject({ id: window, demand: false });
  expect(during.demands.map(({ id }) => id)).toEqual([second, record]);
  await up.daemon.client.close(window, 'one');

  await up.plant.act({ do: 'stop', machine: 'E1' });
  await up.plant.until('E1.motor-running', 0);
  expect(rechecked()).toMatchObject({ ok: true });
  expect(cli('audit', log).code).toBe(0);
  const reader = readLog(log);
  const told = reader.parsed().filter((entry) => JSON.stringify(entry.body).includes('"dangerous":true'));
  reader.close();
  expect(told.length).toBeGreaterThan(0);
});
