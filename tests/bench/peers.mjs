/** What the benches share: the C server and client of libmodbus, a busy core, medians. */
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

const folder = mkdtempSync(join(tmpdir(), 'tripwitness-bench-'));

export const compile = (file, name) => {
  const out = join(folder, name);
  const built = spawnSync('gcc', ['-O2', '-o', out, file, '-I/usr/include/modbus', '-lmodbus'], {
    encoding: 'utf8',
  });
  if (built.status !== 0) throw new Error(built.stderr);
  return out;
};

export const compileText = (text, name) => {
  const file = join(folder, `${name}.c`);
  writeFileSync(file, text);
  return compile(file, name);
};

let serverProgram;

/** A libmodbus server on a free port that thinks for so long (µs) before each answer. */
export const startServer = async (thinks = 0) => {
  serverProgram ??= compile(
    fileURLToPath(new URL('../servers/libmodbus-server.c', import.meta.url)),
    'server',
  );
  const child = spawn(serverProgram, [String(thinks)]);
  const port = await new Promise((resolve) =>
    createInterface({ input: child.stdout }).once('line', (line) => resolve(Number(line))),
  );
  return { port, stop: () => child.kill() };
};

/** Keeps one core busy until it is stopped. */
export const busyCore = () => {
  const child = spawn(process.execPath, ['-e', 'for (;;);']);
  return () => child.kill('SIGKILL');
};

export const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

export const share = (values, part) =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(part * values.length))] ?? 0;

export const modbusSource = (name, port, more = {}) => ({
  protocol: 'modbus',
  name,
  line: { kind: 'tcp', host: '127.0.0.1', port },
  unit: 1,
  poll: 100_000,
  windowPoll: 100_000,
  slowPoll: 1_000_000,
  timeout: 1_000_000,
  scan: 0,
  scanConsistent: true,
  maxRegisters: 125,
  maxBits: 2_000,
  maxGap: 0,
  inFlight: 1,
  pause: 0,
  connection: 'shared',
  ...more,
});

/** `count` registers from 0 on, each a signal of its own. */
export const registers = (source, count, first = 0) =>
  Array.from({ length: count }, (_, index) => ({
    id: first + index,
    name: `s${first + index}`,
    source,
    address: { kind: 'modbus', table: 'holding', at: index },
    decoding: { as: 'number', type: 'uint16', order: 'ABCD', scale: 1, offset: 0, faults: [] },
    quantity: 'count',
    unit: 'count',
    states: [],
    resolution: 1,
    accuracy: 0,
    age: 0,
    agedAfter: 1e6,
  }));

export const createBenchClock = () => {
  const began = process.hrtime.bigint();
  return { now: () => 1e15 + Number((process.hrtime.bigint() - began) / 1000n) };
};

export const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));
