/** An OPC UA server that somebody meets for the first time: what it offers, what stands there, a site to begin with. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { begin, cli, folder } from './rig.ts';

const dir = folder();
const pki = join(dir, 'pki');
let plant: Awaited<ReturnType<typeof begin>>;
let endpoint = '';

beforeAll(async () => {
  const ports = ['--modbus-port', '0', '--hands-port', '0', '--opcua-port', '0'];
  plant = await begin('plant', '--json', ...ports);
  endpoint = (plant.told as { opcua: { endpoint: string } }).opcua.endpoint;
});
afterAll(async () => {
  await plant?.end();
});

test('it shows its ways in and its values, and writes a site that check reads', () => {
  const file = join(dir, 'site.yaml');
  const ran = cli('probe', endpoint, '--pki', pki, '--timeout', '20000', '--site-file', file);
  expect(ran.code, ran.out).toBe(0);
  for (const line of ran.out.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
  expect(ran.out).toMatch(/none +users: .*anonymous/);
  expect(ran.out).toMatch(
    /E1\.normal-speed +96 {2}Double\n +nsu=urn:tripwitness:plant:signals;s=E1\.normal-speed/,
  );
  expect(readFileSync(file, 'utf8')).toMatch(/E1\.normal-speed: .*unit: count } # say: the unit/);
  const checked = cli('check', file);
  expect(checked.code).toBe(0);
  expect(checked.out).toContain('monitored items');
});
