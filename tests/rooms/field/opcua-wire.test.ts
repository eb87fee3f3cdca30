/** What our OPC UA client asks for on the wire, seen by a recording proxy: reading services only, never Write or Call. */
import { expect, test } from 'vitest';
import { examineOpcUa, probeOpcUa } from '../../../src/field/index.ts';
import { NAMESPACE, startPlant } from '../../../src/plant/index.ts';
import { ANONYMOUS, folder, inPlant, proxy, signals, watchOpcUa } from './opcua-rig.ts';

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

const PATH = { kind: 'opc-ua-path', path: [{ namespace: NAMESPACE, name: 'Plant' }] } as const;

test('only reading services pass the wire', { timeout: 60_000 }, async () => {
  const plant = await startPlant({ seed: 1, opcuaPort: 0 });
  const asked = new Set<number>();
  const between = await proxy(plant.opcua!.endpoint, { asked: (kind) => kind > 0 && asked.add(kind) });
  const { endpoint } = between;
  const watched = watchOpcUa(endpoint, signals(inPlant('E1.normal-speed'), PATH));
  await watched.until(() => watched.items().some(({ value }) => value === 96));
  await watched.source.stop();
  const options = { access: ANONYMOUS, timeout: 10_000, pki: folder() };
  await probeOpcUa(endpoint, { ...options, browse: { depth: 2, limit: 50 }, read: [PATH] });
  await examineOpcUa({ endpoint, ...options }, options);
  await plant.stop();
  await between.stop();
  const names = [...asked].map((id) => READING.get(id) ?? `service ${id}`);
  expect(names).toContain('CreateMonitoredItems');
  expect(names).toContain('Publish');
  expect(names).toContain('TranslateBrowsePathsToNodeIds');
  expect(names).toContain('Browse');
  expect(names.filter((name) => name.startsWith('service'))).toEqual([]);
});
