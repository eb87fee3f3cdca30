/**
 * Somebody with a wrong address and a wrong byte order is led to the right ones by `probe` alone, and from there to a
 * site that `check --connect` reads well. Against the simulated plant and, where they are installed, against servers
 * that this project did not write.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { PEERS, portOf } from '../servers/peers.ts';
import { cli, folder, once, type PlantUp, path, plantUp, type Ran } from './rig.ts';

const dir = folder();
let plant: PlantUp;
let place = '';

beforeAll(async () => {
  plant = await plantUp();
  place = `${plant.modbus.host}:${plant.modbus.port}`;
  await plant.starts('E1');
});
afterAll(async () => {
  await plant?.end();
});

/** A port at which nothing listens any more. */
const freePort = async (): Promise<number> => {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  return typeof address === 'object' && address !== null ? address.port : 0;
};

const narrow = ({ out, err }: Ran): void => {
  for (const line of `${out}\n${err}`.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
};
const flat = (text: string): string => text.replace(/\s+/g, ' ');

interface Told {
  readonly ok: boolean;
  readonly steps: readonly { readonly step: string; readonly ok: boolean }[];
  readonly values: readonly { readonly address: number; readonly asked: boolean }[];
  readonly fits: readonly { readonly at: number; readonly type: string; readonly order: string }[];
}

/** Belt speed stands in the registers 13 and 14 as a real number, the lower word first; it never stands quite still. */
const belt = async (): Promise<string> => {
  // Full speed, so that the display shows the same a moment later.
  const { 'E1.belt-speed': speed = 0 } = await once(plant.state, ({ 'E1.belt-speed': now = 0 }) => now > 3);
  return speed.toFixed(2);
};

describe('the list says 40015, ABCD; it is hr:13, CDAB', () => {
  test('what is asked for first makes no sense, and says so', () => {
    const ran = cli('probe', place, '40015');
    expect(ran.code).toBe(0);
    narrow(ran);
    expect(ran.out).toContain('> hr:14 = 40015 = 400015, on the wire 0x000E (14), function 3');
    expect(ran.out).toContain('--expect');
  });

  test('with what the display shows, the right place, type and order come first', async () => {
    const shown = await belt();
    const ran = cli('probe', place, '40015', '--expect', `${shown} m/s`, '--json');
    const told = JSON.parse(ran.out) as Told;
    expect(told.steps.map(({ step, ok }) => `${step} ${ok}`)).toEqual([
      'name true',
      'connection true',
      'unit true',
      'register true',
      'block true',
    ]);
    expect(told.fits[0]).toMatchObject({ at: 13, type: 'float32', order: 'CDAB', scale: 1 });
    // The upper word alone gives nearly the same with the word behind it: told as possible, not as certain.
    expect(told.fits.length).toBeGreaterThan(1);
    expect(ran.code).toBe(2);
  });

  test('and says in words what was wrong, with a line for the site file', async () => {
    const shown = await belt();
    const ran = cli('probe', place, '40015', '--expect', `${shown} m/s`);
    narrow(ran);
    const text = flat(ran.out);
    expect(text).toContain('It stands one lower than hr:14');
    expect(text).toContain('words travel in turned order (CDAB)');
    expect(text).toContain('One look cannot tell these apart');
    expect(text).toContain('address: hr:13, type: float32, order: CDAB, unit: m/s');
  });

  test('the file it writes is read by check, and its value is good; never written over', async () => {
    const shown = await belt();
    const file = join(dir, 'from-probe.yaml');
    const ran = cli('probe', place, '40015', '--expect', `${shown} m/s`, '--site-file', file);
    expect(ran.err).toContain(file);
    expect(cli('check', file).code).toBe(0);
    const connected = cli('check', file, '--connect');
    expect(connected.code).toBe(0);
    expect(connected.out).toMatch(/signal1 +3\.\d+ m\/s/);
    const before = readFileSync(file, 'utf8');
    expect(cli('probe', place, '40015', '--site-file', file).code).toBe(74);
    expect(readFileSync(file, 'utf8')).toBe(before);
  });
});

test('check --connect names the byte order and the neighbour, and who needs the tag; a dead source is told as such', async () => {
  const site = join(dir, 'wrong.yaml');
  const text = `site: wrong
sources:
  plc: { protocol: modbus-tcp, host: ${plant.modbus.host}, port: ${plant.modbus.port}, poll: 50 ms, scan: 25 ms, timeout: 500 ms }
  other: { protocol: modbus-tcp, host: ${plant.modbus.host}, port: ${plant.modbus.port}, unit: 2, poll: 50 ms, scan: 25 ms }
tags:
  E1.shaft-speed: { source: plc, address: hr:0, type: uint16, scale: 0.1, unit: rpm, plausible: [0 rpm, 200 rpm] }
  E1.run-command: { source: plc, address: hr:9.0 }
  E1.motor-running: { source: plc, address: hr:9.1 }
  belt: { source: plc, address: hr:13, type: float32, unit: m/s, plausible: [0 m/s, 6 m/s] }
  belt-off: { source: other, address: hr:14, type: float32, order: CDAB, unit: m/s, plausible: [0 m/s, 6 m/s] }
  nowhere: { source: other, address: hr:900, type: uint16, unit: count }
machines: { E1: { kind: bucket-elevator, nameplate: { shaft-speed: 96 rpm } } }
rules: [${path('rules/bucket-elevator.yaml')}]
`;
  writeFileSync(site, text);
  const ran = cli('check', site, '--connect');
  expect(ran.code).toBe(2);
  narrow(ran);
  expect(flat(ran.out)).toMatch(/! belt .*Read as float32 CDAB the same words give 3\.\d+ m\/s/);
  expect(flat(ran.out)).toMatch(/! belt-off .*At hr:13, one lower, the same type gives 3\.\d+ m\/s/);
  expect(flat(ran.out)).toMatch(/! nowhere no value The device refuses hr:900\./);
  expect(ran.out).toMatch(/^ {2}E1\.shaft-speed +9\d(\.\d)? rpm ± 0\.05/m);

  const dead = join(dir, 'dead.yaml');
  writeFileSync(
    dead,
    text
      .replace('unit: 2, poll', 'unit: 2, timeout: 200 ms, poll')
      .replace(/port: \d+, unit: 2/, `port: ${await freePort()}, unit: 2`),
  );
  const gone = cli('check', dead, '--connect', '--json');
  expect(gone.code).toBe(69);
  const told = JSON.parse(gone.out) as {
    sources: { source: string; reached: boolean; troubles: string[] }[];
  };
  expect(told.sources.map(({ source, reached }) => [source, reached])).toEqual([
    ['plc', true],
    ['other', false],
  ]);
  expect(told.sources[1]?.troubles.join(' ')).toContain('ECONNREFUSED');
});

test('of registers that are watched, those that move are told apart from those that stand', () => {
  const ran = cli('probe', place, 'hr:0', '--watch', '--for', '2', '--json');
  const told = JSON.parse(ran.out) as {
    addresses: { address: number; changes: number; direction: string }[];
  };
  const row = (address: number) => told.addresses.find((one) => one.address === address);
  // Count of life, pulse count; program revision.
  expect(row(4)).toMatchObject({ direction: 'up' });
  expect(row(6)).toMatchObject({ direction: 'up' });
  expect(row(5)).toMatchObject({ changes: 0, direction: 'still' });
  expect(ran.code).toBe(0);
});

test.each([
  [['10'], 'hr:10 (counted from 0, as on the wire) or hr:9 (counted from 1)'],
  [['0x0010'], 'coil:9'],
  [['hr:0', '--units', '1-99'], 'at most 16'],
  [['hr:0', '--expect', 'fast'], 'no reading of a display'],
])('%j is refused with what to do', (args, said) => {
  const ran = cli('probe', place, ...args);
  expect(ran.code).toBe(64);
  expect(flat(ran.err)).toContain(said);
});

for (const peer of PEERS) {
  const title = peer.there ? peer.name : `${peer.name} (skipped: ${peer.reason})`;
  test.skipIf(!peer.there)(`${title}: an address off by one is found, one past the end is told`, async () => {
    const child = peer.start();
    const port = await portOf(child);
    // Its holding register n holds 1000 + n.
    const found = cli('probe', `127.0.0.1:${port}`, '40012', '--expect', '1010', '--json');
    const told = JSON.parse(found.out) as Told;
    expect(told.fits[0]).toMatchObject({ at: 10, type: 'uint16', order: 'ABCD', scale: 1 });
    const past = cli('probe', `127.0.0.1:${port}`, 'hr:5000');
    expect(past.code).toBe(69);
    expect(past.out).toContain('exception 2');
    const edge = cli('probe', `127.0.0.1:${port}`, 'hr:599', '--json');
    expect((JSON.parse(edge.out) as Told).values.map(({ address }) => address)).toEqual([598, 599]);
    child.kill();
  });
}

test('tables that export writes read back to the same book; files that are there stay', () => {
  const names = ['tags.csv', 'machines.csv', 'site.yaml'].map((name) => join(dir, name));
  const args = ['export', path('config/demo-site.yaml'), '--tags', names[0]!, '--machines', names[1]!];
  expect(cli(...args, '--site', names[2]!).code).toBe(0);
  expect(names.every((name) => existsSync(name))).toBe(true);
  expect(cli('check', names[2]!).code).toBe(0);
  expect(cli(...args).code).toBe(74);
});
