/** The built program as a user runs it, against the plant over real sockets. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, vi } from 'vitest';
import { type Client, createClient, type WindowNow } from '../../src/api/index.ts';
import { connectHands, type HandCommand, type Hands } from '../../src/plant/index.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
export const MAIN = join(root, 'dist/cli/main.js');
export const SITE = join(root, 'config/demo-site.yaml');
export const path = (name: string): string => join(root, name);

export const folder = (): string => mkdtempSync(join(tmpdir(), 'tripwitness-journey-'));

export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

export const cli = (...args: string[]): Ran => {
  const ran = spawnSync(process.execPath, [MAIN, ...args], { encoding: 'utf8', cwd: root });
  return { code: ran.status ?? -1, out: ran.stdout, err: ran.stderr };
};

interface Started {
  readonly process: ChildProcess;
  readonly told: Record<string, unknown>;
  /** Ends it and resolves with its exit code; null after a kill. */
  end(signal?: NodeJS.Signals): Promise<number | null>;
}

/** Asks again and again until the answer is enough. Between the questions the core belongs to whoever is waited for. */
export const once = async <T>(ask: () => Promise<T>, enough: (told: T) => boolean): Promise<T> => {
  const look = async (): Promise<{ told: T } | undefined> => {
    const told = await ask();
    return enough(told) ? { told } : undefined;
  };
  return (await vi.waitUntil(look, { interval: 20, timeout: 120_000 })).told;
};

/** Starts a command that stays, and waits for its JSON. */
export const begin = (...args: string[]): Promise<Started> =>
  new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [MAIN, ...args], { stdio: ['ignore', 'pipe', 'pipe'], cwd: root });
    const gone = new Promise<number | null>((told) => child.once('exit', (code) => told(code)));
    let text = '';
    let trouble = '';
    child.stderr.on('data', (data: Buffer) => {
      trouble += data.toString();
    });
    child.once('exit', (code) =>
      reject(new Error(`${args[0]} ended with ${code}: ${trouble.slice(-2_000)}`)),
    );
    createInterface({ input: child.stdout }).on('line', (line) => {
      text += line;
      let told: Record<string, unknown>;
      try {
        told = JSON.parse(text) as Record<string, unknown>;
      } catch {
        return;
      }
      const end = (signal: NodeJS.Signals = 'SIGTERM'): Promise<number | null> => {
        child.kill(signal);
        return gone;
      };
      resolve({ process: child, told, end });
    });
  });

export interface PlantUp extends Started {
  readonly hands: Hands;
  readonly modbus: { readonly host: string; readonly port: number };
  act(command: HandCommand): Promise<void>;
  state(): Promise<Record<string, number>>;
  /** Waits for a value of the plant. */
  waitFor(signal: string, enough: (value: number) => boolean): Promise<void>;
  until(signal: string, value: number): Promise<void>;
  /** Starts a machine, and waits until it runs. */
  starts(machine: (HandCommand & { do: 'start' })['machine']): Promise<void>;
}

export const plantUp = async (...args: string[]): Promise<PlantUp> => {
  const started = await begin(
    'plant',
    '--json',
    '--no-opcua',
    '--modbus-port',
    '0',
    '--hands-port',
    '0',
    ...args,
  );
  const { hands: at, modbus } = started.told as {
    hands: { host: string; port: number };
    modbus: { host: string; port: number };
  };
  const hands = await connectHands(at.host, at.port);
  const state = async (): Promise<Record<string, number>> => {
    const answer = await hands.do({ do: 'state' });
    return answer.ok ? { ...answer.state } : {};
  };
  const act = async (command: HandCommand): Promise<void> => {
    const answer = await hands.do(command);
    if (!answer.ok) throw new Error(answer.error);
  };
  const waitFor = async (signal: string, enough: (value: number) => boolean): Promise<void> => {
    await once(state, (shown) => enough(shown[signal] ?? Number.NaN));
  };
  const until = (signal: string, value: number): Promise<void> => waitFor(signal, (one) => one === value);
  return {
    ...started,
    hands,
    modbus,
    state,
    act,
    waitFor,
    until,
    async starts(machine) {
      await act({ do: 'start', machine });
      await until(`${machine}.motor-running`, 1);
    },
  };
};

/**
 * A busy machine polls late, and what it then measures cannot be placed. Several journeys prove the alignment switch to get a
 * pass, not to measure its times: in their site these have room.
 */
const patientSite = (text: string): string => {
  const dir = folder();
  for (const pack of ['bucket-elevator', 'belt-conveyor', 'feeder'])
    writeFileSync(
      join(dir, `${pack}.yaml`),
      readFileSync(path(`rules/${pack}.yaml`), 'utf8').replace(
        /^ {2}misalignment-(?:alarm|stop):\n(?: {4}.*\n)+/gm,
        (interlock) =>
          interlock
            .replace('tolerance: 0.3 s', 'tolerance: 1.5 s')
            .replaceAll(/within: ([\d.]+) s/g, (_, seconds) => `within: ${4 * Number(seconds)} s`),
      ),
    );
  const file = join(dir, 'site.yaml');
  writeFileSync(file, text.replaceAll('../rules/', './'));
  return file;
};

/** The whole site of the demonstration. */
export const WHOLE = patientSite(readFileSync(SITE, 'utf8'));

/** Leg 1 and its feeder alone: no library of OPC UA is loaded, and no source is silent beside. */
export const LEG = patientSite(
  readFileSync(SITE, 'utf8')
    .replace(/^ {2}(?:ua1|C2):\n(?: {4}.*\n)+/gm, '')
    .replace(/^ {2}C2\..*\n/gm, ''),
);

export interface DaemonUp extends Started {
  readonly client: Client;
}

export const daemonUp = async (
  log: string,
  port: number,
  host = '127.0.0.1',
  site = LEG,
  /** Where it answers; any free port where nobody says. */
  own = '0',
): Promise<DaemonUp> => {
  const started = await begin(
    'run',
    site,
    '--json',
    '--log',
    log,
    '--port',
    own,
    '--at',
    `plc1=${host}:${port}`,
  );
  return { ...started, client: createClient(String(started.told['url']), fetch) };
};

interface BothUp {
  plant: PlantUp;
  /** A test that ends it puts the next one in its place. */
  daemon: DaemonUp;
}

/** Plant and daemon, up for all tests of a file. */
export const bothUp = (log: string): BothUp => {
  const up = {} as BothUp;
  beforeAll(async () => {
    up.plant = await plantUp();
    up.daemon = await daemonUp(log, up.plant.modbus.port);
  });
  afterAll(async () => {
    up.plant.hands.close();
    await Promise.all([up.plant.end(), up.daemon.end()]);
  });
  return up;
};

/** Follows a window until `enough` says so. */
export const followed = (
  client: Client,
  window: string,
  enough: (shown: WindowNow) => boolean,
): Promise<WindowNow> => once(() => client.show(window), enough);
