/** Whoever moves the cause is told how, live; what is told is never recorded. What an instrument showed is. */
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Now } from '../../src/api/index.ts';
import { readLog } from '../../src/store/index.ts';
import { bothUp, cli, folder, followed, MAIN, once } from './rig.ts';

const STOP = 'E1.underspeed-stop';
const log = join(folder(), 'coaching.log.db');

const up = bothUp(log);

type Own = Now['interlocks'][number];

/** The stop as the daemon sees it, once `enough` says so. */
const stopWhen = async (enough: (stop: Own) => boolean): Promise<Own> => {
  const stopIn = ({ interlocks }: Now) => interlocks.find(({ name }) => name === STOP);
  const found = (now: Now): boolean => {
    const stop = stopIn(now);
    return stop !== undefined && enough(stop);
  };
  const stop = stopIn(await once(() => up.daemon.client.now(), found));
  if (stop === undefined) throw new Error(`${STOP} is not watched`);
  return stop;
};

/** `prove` as a person runs it, with what it says. */
const proving = (...args: string[]) => {
  const child = spawn(process.execPath, [MAIN, 'prove', '--daemon', String(up.daemon.told['url']), ...args]);
  let [said, answered] = ['', ''];
  child.stderr.on('data', (data: Buffer) => {
    said += data.toString();
  });
  child.stdout.on('data', (data: Buffer) => {
    answered += data.toString();
  });
  return new Promise<{ said: string; answered: string }>((resolve) => {
    child.once('close', () => resolve({ said, answered }));
  });
};

test('too fast a ramp is told while it runs, in words and figures', { timeout: 120_000 }, async () => {
  await up.plant.starts('E1');
  await up.plant.act({ do: 'start', machine: 'F1' });
  const proved = proving('--interlock', STOP, '--method', `${STOP}=injected`, '--time-limit', '90');
  await stopWhen(({ testing }) => testing);
  const window = (await up.daemon.client.now()).window?.id ?? '';
  await followed(up.daemon.client, window, ({ findings }) => findings.at(-1)?.text === 'ready');
  expect((await stopWhen(() => true)).advice).toBeUndefined();
  await up.plant.act({ do: 'injector', machine: 'E1', mode: 'taking' });
  const taken = (await up.plant.state())['seconds'] ?? 0;
  await once(up.plant.state, ({ seconds = 0 }) => seconds >= taken + 0.5);
  await up.plant.act({ do: 'injector', machine: 'E1', mode: 'injecting' });
  await up.plant.act({ do: 'ramp', machine: 'E1', percent: 70, rate: 6 });
  const { advice } = await stopWhen((stop) => stop.advice?.code === 'coach-slow-down');
  const rate = advice?.params['rate'] as { low: number; high: number };
  // The injector moves by 6 % of what it took in a second.
  expect(rate.low).toBeLessThan(7.5);
  expect(rate.high).toBeGreaterThan(4.5);
  expect(advice?.text).toContain('%/s');

  await up.plant.until('E1.motor-running', 0);
  const mark = ['--interlock', STOP, '--instrument', 'hand tachometer', '--by', 'one'];
  const marking = (value: string) =>
    cli(
      'window',
      'mark',
      'observed',
      '--value',
      value,
      '--doubt',
      '0.2 rpm',
      ...mark,
      '--daemon',
      String(up.daemon.told['url']),
    );
  const wrong = marking('78 degC');
  expect([wrong.code, wrong.err]).toEqual([64, expect.stringContaining('is in rpm')]);
  expect(marking('1.3 rev/s').code).toBe(0);
  await up.plant.act({ do: 'step', machine: 'E1', percent: 100 });

  const { said, answered } = await proved;
  expect(said).toMatch(/^ {4}> Ramp at most/m);
  expect(said).toMatch(/Slow down: .*%\/s, at most .*%\/s/);
  for (const line of `${said}${answered}`.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
});

test('advice is in no entry of the log, and judging again gives the same; the instrument is in the verdict', () => {
  const reader = readLog(log);
  const entries = reader.parsed();
  reader.close();
  const about = (text: string) => entries.filter((entry) => JSON.stringify(entry.body).includes(text)).length;
  expect(about('coach-')).toBe(0);
  expect(JSON.parse(cli('recheck', log, '--json').out)).toMatchObject({ ok: true });
  const verdicts = entries.filter(({ kind }) => kind === 'verdict');
  expect(verdicts).toHaveLength(1);
  expect(JSON.stringify(verdicts[0]?.body)).toContain('"instrument":"hand tachometer"');
  // 1.3 rev/s are 78 rpm.
  expect(JSON.stringify(verdicts[0]?.body)).toMatch(/"observed":\{"high":78\.2,"low":77\.8\}/);
});
