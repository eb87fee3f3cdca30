/** The peers of the contract suite: what is to be read there, and how to stop and bring back each of them. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { examineOpcUa, knownCertificates, openOpcUa, type Sink, setTrust } from '../../../src/field/index.ts';
import type { SignalId, Span } from '../../../src/measure/index.ts';
import { PLANT_MAP, startPlant } from '../../../src/plant/index.ts';
import type {
  Decoding,
  Line,
  OpcUaAccess,
  OpcUaSource,
  Plan,
  SignalDef,
  Source,
  Table,
} from '../../../src/signal/index.ts';
import { FIXED, NAMESPACE, startClockedOpcUa } from '../../servers/clocked-opcua.ts';
import { startLine } from '../../servers/lines.ts';
import { ownHost } from '../../servers/own-host.ts';
import { modbusSource, openSources } from '../../servers/sources.ts';
import { clock, MAP, TABLES, tickAt, wordAt } from '../../servers/truth.ts';

/** A peer that runs, and the source that reads it. */
export interface Peer {
  readonly sources: readonly Source[];
  readonly signals: readonly SignalDef[];
  /** Values that do not move. */
  readonly fixed: ReadonlyMap<SignalId, number>;
  /** Moves all the time; `steps` counts up; `refused` is not there. */
  readonly live: SignalId;
  readonly steps: SignalId;
  readonly refused: SignalId;
  /** Whether the peer held this value of `live` at some instant of the span. */
  held(value: number, at: Span): boolean;
  /** Slots that a return may cost, beyond the connection. */
  readonly slots: number;
  open(sink: Sink): { readonly plan: Plan; stop(): Promise<void> };
  stop(): Promise<void>;
  /** At the same place as before. */
  start(): Promise<void>;
  end(): Promise<void>;
}

export interface PeerKind {
  readonly name: string;
  /** Why it cannot be had here. */
  readonly missing: string | undefined;
  make(): Promise<Peer>;
}

const folder = mkdtempSync(join(tmpdir(), 'tripwitness-contract-'));

const signal = (id: number, name: string, address: SignalDef['address'], decoding: Decoding): SignalDef => ({
  id: id as SignalId,
  name,
  source: 0,
  address,
  decoding,
  quantity: 'count',
  unit: 'count',
  states: [],
  resolution: 0,
  accuracy: 0,
  age: 0,
  agedAfter: 5_000_000,
});

type Numbered = Extract<Decoding, { readonly as: 'number' }>;
type Pattern = readonly [
  words: readonly number[],
  type: Numbered['type'],
  order: Numbered['order'],
  value: number,
];

/**
 * Words and what they mean. Two's complement and IEEE 754-2019: −118.625 is 0xC2ED4000, π is 0x400921FB54442D18; 0x12345678
 * in the four orders of its bytes A (most significant) to D.
 */
const PATTERNS: readonly Pattern[] = [
  [[0xffff], 'uint16', 'ABCD', 65_535],
  [[0x8000], 'int16', 'ABCD', -32_768],
  [[0x1234, 0x5678], 'uint32', 'ABCD', 0x12345678],
  [[0x5678, 0x1234], 'uint32', 'CDAB', 0x12345678],
  [[0x3412, 0x7856], 'uint32', 'BADC', 0x12345678],
  [[0x7856, 0x3412], 'uint32', 'DCBA', 0x12345678],
  [[0xffff, 0xfffe], 'int32', 'ABCD', -2],
  [[0xc2ed, 0x4000], 'float32', 'ABCD', -118.625],
  [[0x4000, 0xc2ed], 'float32', 'CDAB', -118.625],
  [[0xedc2, 0x0040], 'float32', 'BADC', -118.625],
  [[0x0040, 0xedc2], 'float32', 'DCBA', -118.625],
  [[0x4009, 0x21fb, 0x5444, 0x2d18], 'float64', 'ABCD', Math.PI],
];
const BITS = [1, 0, 1, 1, 0, 0, 0, 1, 1, 0];

interface Reading {
  readonly signals: SignalDef[];
  readonly fixed: Map<SignalId, number>;
  /** `table address word` a line. */
  readonly lines: string[];
  add(name: string, address: SignalDef['address'], decoding: Decoding, value?: number): SignalId;
}

const reading = (): Reading => {
  const signals: SignalDef[] = [];
  const fixed = new Map<SignalId, number>();
  return {
    signals,
    fixed,
    lines: [],
    add: (name, address, decoding, value) => {
      const def = signal(signals.length, name, address, decoding);
      signals.push(def);
      if (value !== undefined) fixed.set(def.id, value);
      return def.id;
    },
  };
};

const number = (type: Numbered['type'], order: Numbered['order'] = 'ABCD'): Decoding => ({
  as: 'number',
  type,
  order,
  scale: 1,
  offset: 0,
  faults: [],
});

const at = (table: Table, address: number): SignalDef['address'] => ({ kind: 'modbus', table, at: address });

/** All four tables, each type in each order of its bytes, bits alone and in words. */
const clockedSignals = () => {
  const all = reading();
  const { lines, add } = all;
  for (const table of ['holding', 'input'] as const) {
    let place = table === 'holding' ? 0 : 50;
    for (const [words, type, order, value] of PATTERNS) {
      add(`${table} ${type} ${order}`, at(table, place), number(type, order), value);
      words.forEach((word, index) => {
        lines.push(`${TABLES.indexOf(table)} ${place + index} ${word}`);
      });
      place += words.length;
    }
    lines.push(`${TABLES.indexOf(table)} ${place} ${0x8001}`);
    for (const [bit, value] of [
      [0, 1],
      [7, 0],
      [15, 1],
    ] as const)
      add(`${table} bit ${bit}`, at(table, place), { as: 'bit', bit, inverted: false }, value);
  }
  for (const table of ['coil', 'discrete-input'] as const)
    BITS.forEach((bit, index) => {
      const value = table === 'coil' ? bit : 1 - bit;
      lines.push(`${TABLES.indexOf(table)} ${index + 3} ${value}`);
      add(`${table} ${index}`, at(table, index + 3), { as: 'bit', inverted: false }, value);
    });
  const live = add('live', at('holding', MAP.live), number('uint16'));
  const steps = add('steps', at('holding', MAP.steps), number('uint16'));
  lines.push(`2 ${MAP.end - 1} 4711`);
  add('the last address', at('holding', MAP.end - 1), number('uint16'), 4_711);
  const refused = add('beyond the last address', at('holding', MAP.end), number('uint16'));
  return { ...all, live, steps, refused };
};

const heldByClock =
  (address: number) =>
  (value: number, { earliest, latest }: Span): boolean => {
    for (let tick = tickAt(earliest); tick <= tickAt(latest); tick += 1)
      if (wordAt(1, 'holding', address, tick) === value) return true;
    return false;
  };

/** Slots within which a peer's return must show. */
const SLOTS = 2;
const POLL = 20_000;
const TIMEOUT = 250_000;
/** On a line the unit is left alone twice, each time for longer than its slowest answer, before it is believed again. */
const LINE_SLOTS = SLOTS + Math.ceil((2 * 1.1 * TIMEOUT + 50_000) / POLL) + 1;

/** The first line that a server prints, once it serves. */
const firstLine = (child: ChildProcess): Promise<string> =>
  new Promise((resolve, reject) => {
    let trouble = '';
    child.stderr?.on('data', (data: Buffer) => {
      trouble += data.toString();
    });
    child.once('exit', (code) => reject(new Error(`the server ended with ${code}: ${trouble}`)));
    createInterface({ input: child.stdout! }).once('line', resolve);
  });

const killed = async (child: ChildProcess | undefined): Promise<void> => {
  if (child === undefined || child.exitCode !== null || child.signalCode !== null) return;
  child.removeAllListeners('exit');
  const exit = new Promise((resolve) => child.once('exit', resolve));
  child.kill('SIGKILL');
  await exit;
};

type Way = 'tcp' | 'rtu' | 'rtu-over-tcp';

/** A server of another's making, as a process of its own. */
const external = async (command: () => readonly string[], way: Way): Promise<Peer> => {
  const all = clockedSignals();
  const file = join(folder, `fixed-${way}`);
  writeFileSync(file, all.lines.join('\n'));
  const host = ownHost();
  const pair = way === 'rtu' ? await startLine('pair') : undefined;
  let port = 0;
  let child: ChildProcess | undefined;
  const start = async (): Promise<void> => {
    const [program, ...args] = command();
    child = spawn(program!, [...args, file, way, pair?.far ?? `${host}:${port}`]);
    const line = await firstLine(child);
    if (pair === undefined) port = Number(line);
  };
  await start();
  const line: Line =
    pair === undefined
      ? { kind: way === 'tcp' ? 'tcp' : 'rtu-over-tcp', host, port }
      : { kind: 'serial', path: pair.path, baud: 115_200, parity: 'none', dataBits: 8, stopBits: 1 };
  const source = modbusSource({
    line,
    unit: 1,
    poll: POLL,
    windowPoll: POLL,
    slowPoll: POLL,
    timeout: TIMEOUT,
  });
  return {
    ...all,
    sources: [source],
    held: heldByClock(MAP.live),
    slots: way === 'tcp' ? SLOTS : LINE_SLOTS,
    open: (sink) => openSources([source], all.signals, sink),
    start,
    stop: () => killed(child),
    end: async () => {
      await killed(child);
      await pair?.stop();
    },
  };
};

/** The simulated plant at rest: its heartbeat moves with each scan. */
const plant = async (): Promise<Peer> => {
  const all = reading();
  const host = ownHost();
  let port = 0;
  let running: Awaited<ReturnType<typeof startPlant>> | undefined;
  const begun: number[] = [];
  const start = async (): Promise<void> => {
    running = await startPlant({ seed: 7, host, modbusPort: port });
    port = running.modbus.port;
    let image = running.model.image;
    const note = (): void => {
      begun[image['E1.heartbeat'] ?? 0] = clock.now();
    };
    note();
    // Each scan puts a new image in place of the old one.
    Object.defineProperty(running.model, 'image', {
      get: () => image,
      set: (next: typeof image) => {
        image = next;
        note();
      },
    });
  };
  await start();
  const still = { ...running!.model.image };
  for (const { name, register, type, order, bit, coil, scale, quantity } of PLANT_MAP) {
    if (name.includes('heartbeat') || quantity === 'temperature') continue;
    const decoding: Decoding =
      type === 'bit'
        ? { as: 'bit', bit: bit ?? 0, inverted: false }
        : { ...(number(type, order) as Numbered), scale };
    for (const table of ['holding', 'input'] as const)
      all.add(`${table} ${name}`, at(table, register), decoding, still[name] ?? 0);
    if (coil === undefined) continue;
    for (const table of ['coil', 'discrete-input'] as const)
      all.add(`${table} ${name}`, at(table, coil), { as: 'bit', inverted: false }, still[name] ?? 0);
  }
  const heartbeat = PLANT_MAP.find(({ name }) => name === 'E1.heartbeat')!;
  const live = all.add('heartbeat', at('holding', heartbeat.register), number('uint16'));
  const refused = all.add('beyond the last address', at('holding', 9_000), number('uint16'));
  const source = modbusSource({
    line: { kind: 'tcp', host, port },
    unit: 1,
    poll: POLL,
    windowPoll: POLL,
    slowPoll: POLL,
    timeout: TIMEOUT,
  });
  return {
    ...all,
    live,
    steps: live,
    refused,
    sources: [source],
    held: (value, { earliest, latest }) => {
      const from = begun[value];
      return (
        from !== undefined && from <= latest && (begun[value + 1] ?? Number.POSITIVE_INFINITY) >= earliest
      );
    },
    slots: SLOTS,
    open: (sink) => openSources([source], all.signals, sink),
    start,
    stop: async () => running?.stop(),
    end: async () => running?.stop(),
  };
};

const opcUa = async (access: OpcUaAccess): Promise<Peer> => {
  const all = reading();
  const inServer = (id: string): SignalDef['address'] => ({
    kind: 'opc-ua',
    namespace: NAMESPACE,
    id: `s=${id}`,
  });
  const decoding: Decoding = { as: 'value', scale: 1, offset: 0, inverted: false };
  for (const [type, value] of FIXED) all.add(type, inServer(type), decoding, value);
  const live = all.add('live', inServer('live'), decoding);
  const steps = all.add('steps', inServer('steps'), decoding);
  const refused = all.add('nowhere', inServer('nowhere'), decoding);
  const host = ownHost();
  const certificates = join(folder, 'clocked-opcua');
  let server = await startClockedOpcUa(host, 0, certificates);
  const { port } = server;
  const pki = mkdtempSync(join(folder, 'pki-'));
  if (access.mode !== 'none') {
    // Seen once, and then trusted by its fingerprint.
    await examineOpcUa({ endpoint: server.endpoint, access, timeout: 10_000 }, { pki });
    for (const { facts } of await knownCertificates(pki)) await setTrust(pki, facts.sha256, true);
  }
  const source: OpcUaSource = {
    protocol: 'opc-ua',
    name: 'server',
    endpoint: server.endpoint,
    access,
    sampling: 20_000,
    publishing: 50_000,
    queue: 10,
    timeout: 2_000_000,
    scan: 0,
    sourceClock: 'server',
  };
  let running = true;
  const stop = async (): Promise<void> => {
    if (running) await server.stop();
    running = false;
  };
  return {
    ...all,
    live,
    steps,
    refused,
    sources: [source],
    held: heldByClock(MAP.live),
    slots: Number.POSITIVE_INFINITY,
    open: (sink) => {
      const opened = openOpcUa(source, 0, all.signals, sink, clock, { pki });
      const items = new Map([[0, all.signals.map(({ id }) => id)]]);
      return { plan: { requests: [], items }, stop: () => opened.stop() };
    },
    start: async () => {
      server = await startClockedOpcUa(host, port, certificates);
      running = true;
    },
    stop,
    end: stop,
  };
};

const servers = fileURLToPath(new URL('../../servers', import.meta.url));
const works = (program: string, ...args: string[]): boolean =>
  spawnSync(program, args, { stdio: 'ignore' }).status === 0;
const without = (there: boolean, what: string): string | undefined =>
  there ? undefined : `${what} is missing`;

const library = without(
  existsSync('/usr/include/modbus/modbus.h') && works('gcc', '--version'),
  'libmodbus-dev or gcc',
);
const python = without(
  works('/usr/bin/python3', '-c', 'import pymodbus, serial, serial_asyncio'),
  'python3-pymodbus, python3-serial or python3-serial-asyncio',
);
const socat = without(works('socat', '-V'), 'socat');

let built: string | undefined;
const inC = (): readonly string[] => {
  if (built !== undefined) return [built];
  built = join(folder, 'clocked-server');
  const args = ['-O1', '-o', built, join(servers, 'clocked-server.c'), '-I/usr/include/modbus', '-lmodbus'];
  const done = spawnSync('gcc', args, { encoding: 'utf8' });
  if (done.status !== 0) throw new Error(done.stderr);
  return [built];
};
const inPython = (): readonly string[] => ['/usr/bin/python3', join(servers, 'clocked_server.py')];

const anonymous = (mode: OpcUaAccess['mode'], policy: OpcUaAccess['policy']): OpcUaAccess => ({
  mode,
  policy,
  user: { kind: 'anonymous' },
});

export const PEERS: readonly PeerKind[] = [
  { name: 'simulated plant, Modbus TCP', missing: undefined, make: plant },
  { name: 'libmodbus, Modbus TCP', missing: library, make: () => external(inC, 'tcp') },
  { name: 'pymodbus, Modbus TCP', missing: python, make: () => external(inPython, 'tcp') },
  { name: 'pymodbus, RTU over TCP', missing: python, make: () => external(inPython, 'rtu-over-tcp') },
  { name: 'libmodbus, RTU on a line', missing: library ?? socat, make: () => external(inC, 'rtu') },
  { name: 'pymodbus, RTU on a line', missing: python ?? socat, make: () => external(inPython, 'rtu') },
  {
    name: 'node-opcua, none',
    missing: undefined,
    make: () => opcUa(anonymous('none', 'Basic256Sha256')),
  },
  {
    name: 'node-opcua, sign, Basic256Sha256',
    missing: undefined,
    make: () => opcUa(anonymous('sign', 'Basic256Sha256')),
  },
  ...(['Basic256Sha256', 'Aes128_Sha256_RsaOaep', 'Aes256_Sha256_RsaPss'] as const).map((policy) => ({
    name: `node-opcua, sign-and-encrypt, ${policy}`,
    missing: undefined,
    make: () => opcUa(anonymous('sign-and-encrypt', policy)),
  })),
];
