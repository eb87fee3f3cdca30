/** What our OPC UA client asks for on the wire, seen by a recording proxy: reading services only, never Write or Call. */
import { mkdtempSync } from 'node:fs';
import { type AddressInfo, connect, createServer, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openOpcUa } from '../../../src/field/index.ts';
import type { SignalId } from '../../../src/measure/index.ts';
import { startPlant } from '../../../src/plant/index.ts';
import type { Answer, SignalDef } from '../../../src/signal/index.ts';
import { clock } from './rig.ts';

/** Binary encoding ids of requests. Source: OPC 10000-6, NodeIds.csv, from memory; names beside the numbers. */
const READING = new Map([
  [422, 'FindServers'],
  [428, 'GetEndpoints'],
  [461, 'CreateSession'],
  [467, 'ActivateSession'],
  [473, 'CloseSession'],
  [527, 'Browse'],
  [533, 'BrowseNext'],
  [554, 'TranslateBrowsePathsToNodeIds'],
  [631, 'Read'],
  [751, 'CreateMonitoredItems'],
  [781, 'DeleteMonitoredItems'],
  [787, 'CreateSubscription'],
  [826, 'Publish'],
  [832, 'Republish'],
  [847, 'DeleteSubscriptions'],
]);

test('only reading services pass the wire', { timeout: 60_000 }, async () => {
  const plant = await startPlant({ seed: 1, opcuaPort: 0 });
  const at = new URL(plant.opcua!.endpoint.replace('opc.tcp', 'http'));
  const asked = new Set<number>();
  const sockets = new Set<Socket>();
  const proxy = createServer((socket) => {
    const on = connect(Number(at.port), at.hostname);
    let rest = Buffer.alloc(0);
    socket.on('data', (data) => {
      on.write(data);
      rest = Buffer.concat([rest, data]);
      while (rest.length >= 8 && rest.length >= rest.readUInt32LE(4)) {
        // A message under security policy None: 24 bytes of headers, then the request's type as a four-byte NodeId.
        if (rest.toString('latin1', 0, 3) === 'MSG' && rest[24] === 1) asked.add(rest.readUInt16LE(26));
        rest = rest.subarray(rest.readUInt32LE(4));
      }
    });
    on.on('data', (data) => socket.write(data));
    for (const one of [socket, on]) {
      sockets.add(one);
      one.on('error', () => undefined);
      one.on('close', () => {
        socket.destroy();
        on.destroy();
      });
    }
  });
  await new Promise<void>((resolve) => proxy.listen(0, '127.0.0.1', resolve));
  const signal: SignalDef = {
    id: 0 as SignalId,
    name: 'E1.normal-speed',
    source: 0,
    address: { kind: 'opc-ua', namespace: 'urn:tripwitness:plant:signals', id: 's=E1.normal-speed' },
    decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
    quantity: 'rotational-speed',
    unit: 'rpm',
    states: [],
    resolution: 0.1,
    accuracy: 0,
    age: 0,
    agedAfter: 2_000_000,
  };
  const endpoint = `opc.tcp://127.0.0.1:${(proxy.address() as AddressInfo).port}`;
  let seen: (() => void) | undefined;
  const value = new Promise<void>((resolve) => {
    seen = resolve;
  });
  const sink = {
    answer: (answer: Answer) => {
      if (answer.kind === 'items' && answer.items.some((item) => item.value === 96)) seen?.();
    },
    event: () => undefined,
  };
  const source = openOpcUa(
    {
      protocol: 'opc-ua',
      name: 'ua',
      endpoint,
      access: { mode: 'none', policy: 'Basic256Sha256', user: { kind: 'anonymous' } },
      sampling: 50_000,
      publishing: 100_000,
      queue: 10,
      timeout: 5_000_000,
      scan: 20_000,
      clockBound: 20_000,
    },
    0,
    [signal],
    sink,
    clock,
    { pki: mkdtempSync(join(tmpdir(), 'tripwitness-pki-')) },
  );
  await value;
  await source.stop();
  await plant.stop();
  for (const socket of sockets) socket.destroy();
  proxy.close();
  const names = [...asked].map((id) => READING.get(id) ?? `service ${id}`);
  expect(names).toContain('CreateMonitoredItems');
  expect(names).toContain('Publish');
  expect(names.filter((name) => name.startsWith('service'))).toEqual([]);
});
