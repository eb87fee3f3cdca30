import { type ChildProcess, spawn } from 'node:child_process';
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { type Client, createClient, type WindowNow } from '../api/index.ts';
import type { Method, WindowVerdict } from '../judge/index.ts';
import type { Outcome } from '../measure/index.ts';
import { connectHands, type Hands } from '../plant/index.ts';
import { auditCommand } from './audit.ts';
import {
  displaceBelt,
  heatBearing,
  injectorOff,
  restartLeg,
  type Stage,
  startBelt,
  startLeg,
  underspeedRamp,
  underspeedStep,
} from './demo-script.ts';
import { EXIT, json, out, Stop, say } from './io.ts';
import { BESIDE } from './keys-folder.ts';
import { recheckCommand } from './recheck.ts';

export interface DemoOptions {
  readonly json: boolean;
  readonly dir: string;
}

const MAIN = fileURLToPath(new URL('./main.js', import.meta.url));
const SITE = fileURLToPath(new URL('../../config/demo-site.yaml', import.meta.url));
const BROKEN = 'wrong-set-point';

const METHODS: Readonly<Record<string, Method>> = {
  'E1.underspeed-alarm': 'injected',
  'E1.underspeed-stop': 'injected',
  'E1.bearing-alarm': 'heated',
  'E1.bearing-stop': 'heated',
  'E1.misalignment-alarm': 'displaced',
  'E1.misalignment-stop': 'displaced',
  'C2.misalignment-alarm': 'displaced',
  'C2.misalignment-stop': 'displaced',
};

/** Starts a command of ours in a process of its own and waits for its first JSON. */
const child = (args: readonly string[]): Promise<{ process: ChildProcess; told: Record<string, unknown> }> =>
  new Promise((resolve, reject) => {
    const started = spawn(process.execPath, [MAIN, ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
    let text = '';
    let trouble = '';
    started.stderr.on('data', (data: Buffer) => {
      trouble = (trouble + data.toString()).slice(-4_000);
    });
    started.once('exit', (code) => reject(new Error(`"${args[0]}" ended with ${code}: ${trouble}`)));
    createInterface({ input: started.stdout }).on('line', (line) => {
      text += line;
      try {
        resolve({ process: started, told: JSON.parse(text) as Record<string, unknown> });
      } catch {
        // The document goes on in the next line.
      }
    });
  });

const ended = (one: ChildProcess): Promise<void> =>
  new Promise((resolve) => {
    if (one.exitCode !== null) return resolve();
    one.once('exit', () => resolve());
    one.kill('SIGTERM');
  });

const pause = (seconds: number): Promise<void> =>
  new Promise((resolve) => setTimeout(resolve, seconds * 1_000));

const stageOf = (hands: Hands, client: Client, began: number): Stage => ({
  hands,
  wait: pause,
  tell: (text) => say(`${String(Math.round((performance.now() - began) / 1_000)).padStart(4)} s  ${text}`),
  async until(signal, test, seconds) {
    const end = performance.now() + seconds * 1_000;
    while (performance.now() < end) {
      const answer = await hands.do({ do: 'state' });
      if (answer.ok && test(answer.state?.[signal] ?? Number.NaN)) return true;
      await pause(0.05);
    }
    return false;
  },
  async ready(interlocks, seconds) {
    const end = performance.now() + seconds * 1_000;
    // What the daemon says lags behind the plant by its slowest source.
    await pause(0.6);
    for (let looks = 0; looks < 2 && performance.now() < end; ) {
      const now = await client.now();
      const own = now.interlocks.filter((one) => interlocks.includes(one.name));
      const idle = own.every((one) => one.testing && one.trial === 0 && one.waits.length === 0);
      looks = idle ? looks + 1 : 0;
      await pause(0.15);
    }
  },
});

/** The daemon has an answer from every source. */
const connected = async (client: Client): Promise<void> => {
  const end = performance.now() + 20_000;
  while (performance.now() < end) {
    const now = await client.now();
    if (now.signals.every((signal) => signal.absent === undefined)) return;
    await pause(0.1);
  }
  throw new Error('the daemon does not reach the simulated plant');
};

type Verdicts = ReadonlyMap<string, WindowVerdict>;

const verdictsIn = (shown: WindowNow): Verdicts =>
  new Map(
    shown.findings.flatMap((one) =>
      one.finding.kind === 'window' ? [[one.interlock, one.finding.verdict] as const] : [],
    ),
  );

const outcomes = (verdicts: Verdicts): Record<string, Outcome> =>
  Object.fromEntries([...verdicts].map(([name, verdict]) => [name, verdict.outcome]));

/** All trials of the first window; the belt is tested while the leg runs up again. */
const firstWindow = async (stage: Stage): Promise<void> => {
  await underspeedRamp(stage);
  await restartLeg(stage);
  await displaceBelt(stage, 'C2');
  await underspeedStep(stage);
  await injectorOff(stage);
  await restartLeg(stage);
  await heatBearing(stage);
  await restartLeg(stage);
  await displaceBelt(stage, 'E1');
};

const writeReport = async (log: string, window: string, path: string): Promise<void> => {
  const { terminalTable } = await import('../report/index.ts');
  const { pageOf, reportNamed } = await import('../daemon/index.ts');
  const report = reportNamed(log, window);
  if (report === undefined) throw new Error(`window ${window} is not in ${log}`);
  await writeFile(path, pageOf(log, { windows: [window] }));
  say(terminalTable(report, { columns: 80, colour: process.stderr.isTTY }));
};

interface Played {
  readonly first: Verdicts;
  readonly second: Verdicts;
  readonly reports: readonly string[];
}

const PEOPLE = [
  { name: 'demo, at the sensor', role: 'sensor' },
  { name: 'demo, at the screen', role: 'screen' },
] as const;

/** Opens a window, lets the trials be made, closes it. */
const inWindow = async (
  stage: Stage,
  client: Client,
  note: string,
  names: readonly string[],
  trials: (stage: Stage) => Promise<void>,
): Promise<WindowNow> => {
  const stimuli = names.map((interlock) => ({ interlock, method: METHODS[interlock] ?? 'unstated' }));
  const { window } = await client.open({ stimuli, people: [...PEOPLE], note });
  stage.tell(`test window ${window} is open: ${names.length} interlocks`);
  await trials(stage);
  return await client.close(window, PEOPLE[1]?.name ?? '');
};

const play = async (stage: Stage, client: Client, log: string, dir: string): Promise<Played> => {
  const names = Object.keys(METHODS);
  const reports = [join(dir, 'report-1.html'), join(dir, 'report-2-after-program-change.html')];
  await connected(client);
  await startBelt(stage);
  await startLeg(stage);
  const first = await inWindow(stage, client, 'demonstration on the simulated plant', names, firstWindow);
  await writeReport(log, first.window, reports[0] ?? '');
  stage.tell(`the program is changed, and one line of it is wrong (${BROKEN})`);
  await stage.hands.do({ do: 'program-change', fault: BROKEN });
  await restartLeg(stage);
  const again = names.filter((name) => name.startsWith('E1.underspeed'));
  const second = await inWindow(stage, client, 'after the program change', again, underspeedRamp);
  await writeReport(log, second.window, reports[1] ?? '');
  return { first: verdictsIn(first), second: verdictsIn(second), reports };
};

/** What went wrong is said by the set point, not by some other aspect. */
const NAMES_THE_SET_POINT = ['set-point-outside', 'level-or-delay-outside'];

/** As planted: everything passes at first; after the change the stop fails for its set point, the alarm still passes. */
const asPlanted = ({ first, second }: Played): boolean => {
  const stop = second.get('E1.underspeed-stop');
  return (
    first.size === Object.keys(METHODS).length &&
    [...first.values()].every((verdict) => verdict.outcome === 'pass') &&
    stop?.outcome === 'fail' &&
    stop.reasons.some((reason) => NAMES_THE_SET_POINT.includes(reason.code)) &&
    second.get('E1.underspeed-alarm')?.outcome === 'pass'
  );
};

const finish = async (played: Played, log: string, options: DemoOptions): Promise<number> => {
  const good = asPlanted(played);
  if (options.json) {
    json({
      asPlanted: good,
      first: outcomes(played.first),
      second: outcomes(played.second),
      log,
      reports: played.reports,
    });
    return good ? EXIT.ok : EXIT.fail;
  }
  const audit = await auditCommand(log, { json: false, keys: BESIDE, against: [] });
  const recheck = await recheckCommand(log, { json: false });
  const caught = played.second.get('E1.underspeed-stop')?.outcome === 'fail';
  out(
    caught
      ? 'Caught: since the program change E1.underspeed-stop no longer stops in time.'
      : 'NOT caught: the program change went unnoticed.',
  );
  out(good ? 'Everything came out as planted.' : 'NOT as planted; see the tables above.');
  out(`log      ${log}\nreports  ${played.reports.join('\n         ')}`);
  return good ? Math.max(audit, recheck) : EXIT.fail;
};

/** Plant, daemon, a window, its trials, verdicts and report; then the same after a program change that broke one. */
export const demoCommand = async (options: DemoOptions): Promise<number> => {
  const began = performance.now();
  await mkdir(options.dir, { recursive: true });
  const log = join(
    options.dir,
    `demo-${new Date().toISOString().replaceAll(/[-:]/g, '').slice(0, 15)}.log.db`,
  );
  const children: ChildProcess[] = [];
  say(
    'A simulated plant is tested. Nothing real moves. On a real machine: lock-out\nrules, guards, empty machine, people clear; site rules and local codes prevail.\n',
  );
  try {
    const plant = await child([
      'plant',
      '--json',
      '--modbus-port',
      '0',
      '--opcua-port',
      '0',
      '--hands-port',
      '0',
    ]);
    children.push(plant.process);
    const places = plant.told as {
      modbus: { host: string; port: number };
      opcua: { endpoint: string };
      hands: { host: string; port: number };
    };
    const at = [`plc1=${places.modbus.host}:${places.modbus.port}`, `ua1=${places.opcua.endpoint}`];
    const daemon = await child([
      'run',
      SITE,
      '--json',
      '--log',
      log,
      '--port',
      '0',
      ...at.flatMap((one) => ['--at', one]),
    ]);
    children.push(daemon.process);
    const hands = await connectHands(places.hands.host, places.hands.port);
    const base = String(daemon.told['url']);
    say(`plant and daemon run; watch at ${base}\n`);
    const client = createClient(base, fetch);
    const played = await play(stageOf(hands, client, began), client, log, options.dir);
    hands.close();
    await Promise.all(children.map(ended));
    return await finish(played, log, options);
  } catch (cause) {
    throw new Stop(`the demo broke off: ${cause instanceof Error ? cause.message : String(cause)}`, {
      exit: EXIT.software,
      cause,
    });
  } finally {
    await Promise.all(children.map(ended));
  }
};
