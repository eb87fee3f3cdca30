/** An OPC UA client, a good server, and a fault proxy between them that knows bytes only. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { examineOpcUa, knownCertificates, openOpcUa, setTrust } from '../../src/field/index.ts';
import type { Reading, SignalId } from '../../src/measure/index.ts';
import { createDecoder, type OpcUaSource, type SignalDef } from '../../src/signal/index.ts';
import { heldSlowly, NAMESPACE, startClockedOpcUa } from '../servers/clocked-opcua.ts';
import { startFaultProxy } from '../servers/fault-proxy.ts';
import { ownHost } from '../servers/own-host.ts';
import { clock } from '../servers/truth.ts';
import { type Kind, PUBLISHING, UA_TIMEOUT } from './acquisition-draw.ts';
import { type Lane, type Watcher, watchOver } from './acquisition-watch.ts';

/** Two items, so that one that stays away is seen beside one that comes. */
const SIGNALS = ['slow-a', 'slow-b'].map(
  (name, id): SignalDef => ({
    id: id as SignalId,
    name,
    source: 0,
    address: { kind: 'opc-ua', namespace: NAMESPACE, id: `s=${name}` },
    decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
    quantity: 'count',
    unit: 'count',
    states: [],
    resolution: 0,
    accuracy: 0,
    age: 0,
    agedAfter: 10_000_000,
  }),
);

const hear = (watcher: Watcher, reading: Reading): void => {
  const { signal, at } = reading;
  const come = { request: signal, sent: at.earliest, received: at.latest };
  const { value, absent } = reading;
  if (value === undefined) {
    watcher.came({ ...come, absent, places: [], of: 1 });
    return;
  }
  const { name } = SIGNALS[signal]!;
  if (!heldSlowly(name, value.low, at))
    watcher.wrong(`${name}: ${value.low} within ${at.latest - at.earliest} us`);
  watcher.came({ ...come, absent: undefined, places: [0], of: 1 });
};

export const openOpcUaLane = async (kind: Kind): Promise<Lane> => {
  const folder = await mkdtemp(join(tmpdir(), 'tripwitness-acquisition-'));
  const server = await startClockedOpcUa(ownHost(), 0, join(folder, 'server'));
  const { hostname } = new URL(server.endpoint.replace('opc.tcp', 'http'));
  const proxy = await startFaultProxy('bytes', server.port, hostname);
  const endpoint = `opc.tcp://${proxy.host}:${proxy.port}`;
  const mode = kind === 'opc ua, none' ? 'none' : 'sign-and-encrypt';
  const access = { mode, policy: 'Basic256Sha256', user: { kind: 'anonymous' } } as const;
  const pki = join(folder, 'client');
  if (mode !== 'none') {
    await examineOpcUa({ endpoint, access, timeout: 10_000 }, { pki });
    for (const { facts } of await knownCertificates(pki)) await setTrust(pki, facts.sha256, true);
  }
  const source: OpcUaSource = {
    protocol: 'opc-ua',
    name: 'server',
    endpoint,
    access,
    sampling: 20_000,
    publishing: PUBLISHING * 1_000,
    queue: 10,
    timeout: UA_TIMEOUT * 1_000,
    scan: 0,
    sourceClock: 'server',
  };
  const decoder = createDecoder(SIGNALS, [source], {
    requests: [],
    items: new Map([[0, SIGNALS.map(({ id }) => id)]]),
  });
  const watcher = watchOver(proxy, SIGNALS.length, PUBLISHING);
  const opened = openOpcUa(
    source,
    0,
    SIGNALS,
    {
      answer: (answer) => {
        for (const reading of decoder.feed(answer)) hear(watcher, reading);
      },
      event: () => undefined,
    },
    clock,
    { pki },
  );
  if (!(await watcher.well())) throw new Error(`${kind}: no values`);
  return {
    suffer: (drawn) => watcher.suffer(drawn),
    async stop() {
      watcher.stop();
      await opened.stop();
      await proxy.stop();
      await server.stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
};
