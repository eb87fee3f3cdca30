/** A guided window on the running daemon: step by step, through a kill and a restart, to its end; the log stands up. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Client } from '../../src/api/index.ts';
import { type GuidedInterlock, type GuideState, PRECAUTIONS, RESTORATIONS } from '../../src/guide/index.ts';
import { readLog } from '../../src/store/index.ts';
import { bothUp, cli, daemonUp, folder, once } from './rig.ts';

const STOP = 'E1.misalignment-stop';
const PEOPLE = [
  { name: 'one', role: 'sensor' as const },
  { name: 'two', role: 'screen' as const },
];
const GUIDED = { guided: true, permit: 'permit 7', precautions: [...PRECAUTIONS] };

const dir = folder();
const log = join(dir, 'guided.log.db');
const up = bothUp(log);

const runs = async (): Promise<void> => {
  for (const machine of ['E1', 'F1'] as const) await up.plant.starts(machine);
};

const until = (
  client: Client,
  window: string,
  enough: (one: GuidedInterlock, state: GuideState) => boolean,
): Promise<GuideState> =>
  once(
    () => client.guide(window),
    (state) => {
      const one = state.interlocks.find(({ name }) => name === STOP);
      return one !== undefined && enough(one, state);
    },
  );

const ownOf = (state: GuideState): GuidedInterlock => {
  const found = state.interlocks.find(({ name }) => name === STOP);
  if (found === undefined) throw new Error(`${STOP} is not in the window`);
  return found;
};

const codesOf = (state: GuideState): string[] => state.open.map(({ code }) => code);

test('without a permit or a precaution nothing is opened', async () => {
  const asked = { stimuli: [{ interlock: STOP, method: 'displaced' as const }], people: PEOPLE };
  await expect(up.daemon.client.open({ ...asked, guided: true })).rejects.toMatchObject({
    code: 'guide-permit',
  });
  await expect(up.daemon.client.open({ ...asked, ...GUIDED, permit: 'none needed' })).rejects.toMatchObject({
    code: 'guide-permit-why',
  });
  await expect(
    up.daemon.client.open({ ...asked, ...GUIDED, precautions: PRECAUTIONS.slice(1) }),
  ).rejects.toMatchObject({ code: 'guide-precautions' });
  await expect(up.daemon.client.open({ ...asked, ...GUIDED, people: [] })).rejects.toMatchObject({
    code: 'guide-people',
  });
});

test('what a test can prove is told before it', async () => {
  const [told] = await up.daemon.client.plan([{ interlock: STOP, method: 'displaced' }]);
  expect(told?.plan.interlock).toBe(STOP);
  expect(told?.proves).toContain('sensor');
  const [forced] = await up.daemon.client.plan([{ interlock: STOP, method: 'forced' }]);
  expect(forced?.cannot).toContain('sensor');
});

test('step by step, killed in a trial, gone on, tried again and closed', { timeout: 240_000 }, async () => {
  await runs();
  const { window } = await up.daemon.client.open({
    stimuli: [{ interlock: STOP, method: 'displaced' }],
    people: PEOPLE,
    ...GUIDED,
  });
  const said = { by: 'two', interlock: STOP };
  const call = async (client: Client): Promise<void> => {
    await until(client, window, ({ stage }) => stage === 'call');
    await client.step(window, { do: 'called', ...said });
    await client.step(window, { do: 'repeated-back', by: 'one', interlock: STOP });
    await client.step(window, { do: 'countdown', ...said, seconds: 1 });
    await until(client, window, ({ stage }) => stage === 'move');
  };

  // The wrong sensor is entered, and does not lead on; case, blanks and hyphens are forgiven.
  expect(ownOf(await up.daemon.client.guide(window)).stage).toBe('identify');
  const wrong = await up.daemon.client.step(window, { do: 'identified', ...said, typed: 'E1.bearing' });
  expect(ownOf(wrong)).toMatchObject({ stage: 'identify', identified: { matches: false } });
  const [expected = ''] = ownOf(wrong).expects;
  const typed = ` ${expected.toLowerCase().replaceAll('-', '')} `;
  const right = await up.daemon.client.step(window, { do: 'identified', ...said, typed });
  expect(ownOf(right).identified).toMatchObject({ matches: true, typed });
  await expect(up.daemon.client.step(window, { do: 'countdown', ...said })).rejects.toMatchObject({
    status: 409,
  });
  await call(up.daemon.client);

  // Killed in the midst of a trial.
  await up.plant.act({ do: 'screw', machine: 'E1', turned: true });
  await until(up.daemon.client, window, ({ trial }) => trial === 1);
  // What is acknowledged is on the disk, and all before it.
  await up.daemon.client.mark(window, { code: 'now', by: 'one', text: 'turned' });
  await up.daemon.end('SIGKILL');
  await up.plant.act({ do: 'screw', machine: 'E1', turned: false });
  expect(cli('audit', log).code).toBe(0);

  up.daemon = await daemonUp(log, up.plant.modbus.port);
  const back = await up.daemon.client.guide(window);
  expect(back.standing).toBe('open');
  expect(back.gaps.length).toBe(1);
  expect(ownOf(back)).toMatchObject({ trial: 0, identified: { matches: true } });
  expect(ownOf(back).trials.map(({ outcome }) => outcome)).toEqual(['inconclusive']);

  // The leg stands, or was stopped while nobody looked: it is reset, started, and tried again.
  await up.plant.act({ do: 'reset', machine: 'E1' });
  await runs();
  await call(up.daemon.client);
  await up.plant.act({ do: 'screw', machine: 'E1', turned: true });
  await up.plant.until('E1.motor-running', 0);
  await until(up.daemon.client, window, ({ stage }) => stage === 'attest' || stage === 'move');
  await up.daemon.client.mark(window, { code: 'attested', by: 'one', machine: 'E1', what: 'horn-heard' });
  await up.plant.act({ do: 'screw', machine: 'E1', turned: false });
  const done = await until(
    up.daemon.client,
    window,
    ({ trials, trial }) => trials.length === 2 && trial === 0,
  );
  expect(ownOf(done)).toMatchObject({ outcome: 'pass', stage: 'done' });
  expect(done.current).toBe('');
  expect(codesOf(done)).toEqual(RESTORATIONS.map(() => 'guide-not-restored'));
  const shown = cli('window', 'show', '--daemon', String(up.daemon.told['url']));
  expect(shown.out).toMatch(/guided: E1.misalignment-stop done\n +7 things are open/);
  for (const line of shown.out.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);

  // An orderly end leaves it open too.
  expect(await up.daemon.end()).toBe(0);
  up.daemon = await daemonUp(log, up.plant.modbus.port);
  for (const item of RESTORATIONS)
    await up.daemon.client.step(window, { do: 'restored', by: 'one', item, note: '' });
  const restored = await up.daemon.client.guide(window);
  expect(restored.open).toEqual([]);
  expect(restored.gaps.length).toBe(2);
  const closed = await up.daemon.client.close(window, 'one');
  expect(
    closed.findings.flatMap(({ finding }) => (finding.kind === 'window' ? [finding.verdict.outcome] : [])),
  ).toEqual(['pass']);

  expect(cli('audit', log).code).toBe(0);
  const recheck = cli('recheck', log, '--json');
  expect(JSON.parse(recheck.out)).toMatchObject({ ok: true });
  const page = join(dir, 'guided.html');
  expect(cli('report', log, '--window', window, '--html', page).code).toBe(0);
  expect(cli('audit', page).code).toBe(0);
  const told = readFileSync(page, 'utf8');
  expect(told).toContain('permit 7');
  expect(told).toContain('named wrongly, typed');
  expect(told).toContain('Put right: horn sounding again');
  expect(told).toContain('nothing is known of that time');
  const reader = readLog(log);
  const own = reader.parsed().filter(({ subject }) => subject === window);
  reader.close();
  expect(own.filter(({ kind }) => kind === 'window-opened').length).toBe(1);
  expect(own.some(({ kind }) => kind === 'window-interrupted')).toBe(false);
  // NOW was entered once for each countdown, at the instant that was counted down to.
  const nows = own.flatMap(({ kind, body }) => {
    const mark = body['mark'] as { code?: string; at?: number } | undefined;
    return kind === 'mark' && mark?.code === 'now' ? [mark.at] : [];
  });
  expect(nows.length).toBe(2 + 1);
});
