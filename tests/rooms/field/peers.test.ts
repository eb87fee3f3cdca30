/** Against servers that this project did not write: Debian's libmodbus (C) and python3-pymodbus, over TCP. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { signalAt, watch } from './rig.ts';

const servers = fileURLToPath(new URL('../../servers', import.meta.url));
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

const PEERS = [
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

const portOf = (child: ChildProcess): Promise<number> =>
  new Promise((resolve, reject) => {
    let trouble = '';
    child.stderr?.on('data', (data: Buffer) => {
      trouble += data.toString();
    });
    child.once('exit', (code) => reject(new Error(`the server ended with ${code}: ${trouble}`)));
    createInterface({ input: child.stdout! }).once('line', (line) => resolve(Number(line)));
  });

for (const peer of PEERS) {
  const title = peer.there ? peer.name : `${peer.name} (skipped: ${peer.reason})`;
  test.skipIf(!peer.there)(
    `${title}: all four tables read right; an address out of range is refused`,
    { timeout: 30_000 },
    async () => {
      const child = peer.start();
      const port = await portOf(child);
      const signals = [
        signalAt(0, 'holding', 0),
        signalAt(1, 'holding', 599),
        signalAt(2, 'input', 5),
        signalAt(3, 'coil', 3),
        signalAt(4, 'coil', 4),
        signalAt(5, 'discrete-input', 6),
        signalAt(6, 'holding', 5_000),
      ];
      const open = watch(port, signals, { timeout: 2_000_000 });
      const kinds = (answers: typeof open.answers, kind: string) =>
        new Set(
          answers.filter((one) => one.kind === kind).map((one) => ('request' in one ? one.request : -1)),
        );
      await open.until(
        (answers) => kinds([...answers], 'words').size === 5 && kinds([...answers], 'nothing').size >= 1,
      );
      await open.source.stop();
      child.kill();
      const found = new Map(
        open.answers.flatMap((one) => (one.kind === 'words' ? [[one.request, one.words] as const] : [])),
      );
      const values = [...found.values()].map((one) => one.join());
      expect(values.sort()).toEqual(['1000', '1599', '2005', '1,0', '1'].sort());
      const refused = open.answers.filter((one) => one.kind === 'nothing' && one.why === 'refused');
      expect(refused.every((one) => one.kind === 'nothing' && one.code === 2)).toBe(true);
      expect(refused.length).toBeGreaterThan(0);
    },
  );
}
