/** Modbus servers that this project did not write: Debian's libmodbus (C) and python3-pymodbus, over TCP. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

const servers = fileURLToPath(new URL('.', import.meta.url));
const python = (...modules: string[]): boolean =>
  spawnSync('/usr/bin/python3', ['-c', modules.map((name) => `import ${name}`).join(';')]).status === 0;

const compiled = (): string => {
  const out = join(mkdtempSync(join(tmpdir(), 'tripwitness-peer-')), 'server');
  const built = spawnSync(
    'gcc',
    ['-o', out, join(servers, 'libmodbus-server.c'), '-I/usr/include/modbus', '-lmodbus'],
    { encoding: 'utf8' },
  );
  if (built.status !== 0) throw new Error(built.stderr);
  return out;
};

export const PEERS = [
  {
    name: 'libmodbus',
    reason: 'libmodbus-dev and gcc are missing',
    there: existsSync('/usr/include/modbus/modbus.h'),
    start: () => spawn(compiled()),
  },
  {
    name: 'pymodbus',
    reason: 'python3-pymodbus is missing',
    there: python('pymodbus', 'serial', 'serial_asyncio'),
    start: () => spawn('/usr/bin/python3', [join(servers, 'pymodbus_server.py')]),
  },
];

/** The port that a server prints once it listens. */
export const portOf = (child: ChildProcess): Promise<number> =>
  new Promise((resolve, reject) => {
    let trouble = '';
    child.stderr?.on('data', (data: Buffer) => {
      trouble += data.toString();
    });
    child.once('exit', (code) => reject(new Error(`the server ended with ${code}: ${trouble}`)));
    createInterface({ input: child.stdout! }).once('line', (line) => resolve(Number(line)));
  });
