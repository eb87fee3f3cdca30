import { mkdir } from 'node:fs/promises';
import type { Instant, SignalId } from '../measure/index.ts';
import type { Item, OpcUaSource, SignalDef } from '../signal/index.ts';
import { backoff } from './backoff.ts';
import type { Clock, OpenSource, Sink } from './types.ts';

type Library = typeof import('node-opcua-client');
type DataValue = import('node-opcua-client').DataValue;

export interface OpcUaOptions {
  /** Folder of our own certificate; made on first use. */
  readonly pki: string;
  readonly onLog?: (text: string) => void;
}

/** A word of the server: when it came, and when it was spoken by the server's own clock, where it says so. */
interface Proof {
  readonly received: Instant;
  readonly serverTime?: Instant;
}

interface Watching {
  readonly source: OpcUaSource;
  readonly index: number;
  readonly signals: readonly SignalDef[];
  readonly sink: Sink;
  readonly clock: Clock;
  readonly last: Map<SignalId, Item>;
  readonly counts: { answers: number; nothings: number; reconnects: number };
  /** When the server last said anything: a notification or a keep-alive. */
  heard: Instant;
  /** The same, once everything it said has been taken in: what was not in it had not changed. */
  proven: Proof | undefined;
  /** Up to where unchanged values have been told. */
  told: Proof | undefined;
  connected: boolean;
  lostAt: Instant | undefined;
  missed: number;
}

const HUNDRED_NS_PER_US = 1_000_000; // picoseconds in a microsecond

/** The library's Date holds milliseconds, its picoseconds the rest of the tick. */
const timeOf = (date: Date | null | undefined, picoseconds: number): Instant | undefined =>
  date && date.getTime() > 0
    ? ((date.getTime() * 1_000 + Math.floor(picoseconds / HUNDRED_NS_PER_US)) as Instant)
    : undefined;

const numberOf = (value: unknown): number | null => {
  if (typeof value === 'boolean') return value ? 1 : 0;
  return typeof value === 'number' ? value : null;
};

const itemOf = (signal: SignalId, data: DataValue): Item => {
  const sourceTime = timeOf(data.sourceTimestamp, data.sourcePicoseconds);
  const serverTime = timeOf(data.serverTimestamp, data.serverPicoseconds);
  return {
    signal,
    status: data.statusCode.value,
    value: numberOf(data.value?.value),
    ...(sourceTime !== undefined && { sourceTime }),
    ...(serverTime !== undefined && { serverTime }),
  };
};

const tell = (watching: Watching, items: readonly Item[], received = watching.clock.now()): void => {
  if (items.length === 0) return;
  watching.counts.answers += 1;
  watching.sink.answer({ kind: 'items', source: watching.index, received, items });
};

/**
 * What the server has not changed is as it was up to its last word, and not up to now: a change may be on its way.
 * Nothing is told twice for the same word.
 */
const tellUnchanged = (watching: Watching): void => {
  const { proven } = watching;
  if (proven === undefined || proven === watching.told) return;
  watching.told = proven;
  const { received, serverTime } = proven;
  const items = [...watching.last.values()].map(({ signal, status, value }) => ({ signal, status, value }));
  const still = { unchanged: true, ...(serverTime !== undefined && { serverTime }) };
  tell(
    watching,
    items.map((item): Item => ({ ...item, ...still })),
    received,
  );
};

const absent = (watching: Watching, why: 'timed-out' | 'interrupted' | 'refused', only?: SignalId): void => {
  const signals = only === undefined ? watching.signals.map((def) => def.id) : [only];
  watching.counts.nothings += 1;
  watching.missed += 1;
  tell(
    watching,
    signals.map((signal): Item => ({ signal, status: -1, value: null, why })),
  );
};

/** Namespaces move between restarts: the address names a URI, the index is looked up at each connection. */
const nodeIdOf = (def: SignalDef, namespaces: readonly string[]): string | undefined => {
  if (def.address.kind !== 'opc-ua') return undefined;
  const index = def.address.namespace === '' ? 0 : namespaces.indexOf(def.address.namespace);
  return index < 0 ? undefined : `ns=${index};${def.address.id}`;
};

/** One life of a connection: ends when the server goes silent or the connection breaks. */
const live = async (
  library: Library,
  watching: Watching,
  options: OpcUaOptions,
  until: AbortSignal,
): Promise<string> => {
  const { source } = watching;
  const { OPCUACertificateManager } = await import('node-opcua-certificate-manager');
  await mkdir(options.pki, { recursive: true });
  const manager = new OPCUACertificateManager({
    rootFolder: options.pki,
    automaticallyAcceptUnknownCertificate: false,
  });
  await manager.initialize();
  const client = library.OPCUAClient.create({
    applicationName: 'tripwitness',
    clientCertificateManager: manager,
    endpointMustExist: false,
    keepSessionAlive: true,
    keepAliveInterval: 2_000,
    defaultTransactionTimeout: 3_000,
    transportTimeout: 5_000,
    connectionStrategy: { maxRetry: 0, initialDelay: 100, maxDelay: 1_000 },
  } as never);
  let ended = '';
  client.on('connection_lost', () => {
    ended ||= 'connection-lost';
  });
  try {
    await client.connect(source.endpoint);
    const session = await client.createSession();
    await subscribe(library, watching, session);
    watching.heard = watching.clock.now();
    await watch(watching, until, () => ended);
    return ended || 'silent';
  } catch (error) {
    return error instanceof Error ? (error.message.split('\n')[0] ?? 'failed') : 'failed';
  } finally {
    await Promise.race([
      client.disconnect().catch(() => undefined),
      new Promise((resolve) => setTimeout(resolve, 1_000)),
    ]);
    manager.dispose();
  }
};

type Session = import('node-opcua-client').ClientSession;

const subscribe = async (library: Library, watching: Watching, session: Session): Promise<void> => {
  const { source } = watching;
  const namespaces = await session.readNamespaceArray();
  const subscription = await session.createSubscription2({
    requestedPublishingInterval: source.publishing / 1_000,
    requestedMaxKeepAliveCount: 3,
    requestedLifetimeCount: 60,
    maxNotificationsPerPublish: 0,
    publishingEnabled: true,
    priority: 1,
  });
  subscription.on('raw_notification', (message) => heard(watching, message.publishTime));
  // One after the other: parallel creation is known to lose items.
  for (const def of watching.signals) {
    const nodeId = nodeIdOf(def, namespaces);
    if (nodeId === undefined) {
      refuse(watching, def, 'namespace-unknown');
      continue;
    }
    const item = await subscription.monitor(
      { nodeId, attributeId: library.AttributeIds.Value },
      { samplingInterval: source.sampling / 1_000, queueSize: source.queue, discardOldest: true },
      library.TimestampsToReturn.Both,
    );
    const status = (item as { statusCode?: { value: number; name: string } }).statusCode;
    if (status !== undefined && status.value >= 0x8000_0000) {
      refuse(watching, def, status.name);
      continue;
    }
    item.on('changed', (data) => {
      const told = itemOf(def.id, data as DataValue);
      watching.last.set(def.id, told);
      tell(watching, [told]);
    });
  }
  watching.connected = true;
  if (watching.lostAt === undefined) return;
  const at = watching.clock.now();
  watching.sink.event({
    kind: 'back',
    source: watching.index,
    at,
    since: watching.lostAt,
    missed: watching.missed,
    code: 'back',
    params: { endpoint: source.endpoint },
  });
  watching.lostAt = undefined;
  watching.counts.reconnects += 1;
};

const refuse = (watching: Watching, def: SignalDef, detail: string): void => {
  const params = { signal: def.name, detail };
  watching.sink.event({
    kind: 'refused',
    source: watching.index,
    at: watching.clock.now(),
    code: 'item-refused',
    params,
  });
  absent(watching, 'refused', def.id);
};

const heard = (watching: Watching, published: Date | null): void => {
  const received = watching.clock.now();
  watching.heard = received;
  // A keep-alive of some servers carries the protocol's zero, which lies in the year 1601.
  const spoken = published !== null && published.getTime() > 0 ? timeOf(published, 0) : undefined;
  const proof = { received, ...(spoken !== undefined && { serverTime: spoken }) };
  // The values of this word are handed out after it; only then does it prove that the others stayed.
  setImmediate(() => {
    watching.proven = proof;
  });
};

/**
 * While the server speaks, what it has not changed is as it was: repeated at each publishing interval. When it is
 * silent for longer than the source's time-out, the connection is given up, whatever the session says.
 */
const watch = (watching: Watching, until: AbortSignal, ended: () => string): Promise<void> =>
  new Promise((resolve) => {
    const every = Math.max(20, watching.source.publishing / 1_000);
    // Keep-alives come at every third interval at the latest; then one interval and the way are still fresh.
    const fresh = 4 * watching.source.publishing + 200_000;
    const timer = setInterval(() => {
      const silent = watching.clock.now() - watching.heard;
      if (until.aborted || ended() !== '' || silent > watching.source.timeout) {
        clearInterval(timer);
        resolve();
      } else if (silent <= fresh) {
        tellUnchanged(watching);
      } else absent(watching, 'timed-out');
    }, every);
  });

const lose = (watching: Watching, detail: string): void => {
  watching.connected = false;
  watching.proven = undefined;
  watching.last.clear();
  if (watching.lostAt !== undefined) return;
  watching.lostAt = watching.clock.now();
  watching.missed = 0;
  const params = { endpoint: watching.source.endpoint, detail };
  watching.sink.event({
    kind: 'lost',
    source: watching.index,
    at: watching.lostAt,
    code: 'connection-lost',
    params,
  });
};

/** Subscribes to a server's items; reads, browses and subscribes, and calls nothing else. Rebuilds itself. */
export const openOpcUa = (
  source: OpcUaSource,
  index: number,
  signals: readonly SignalDef[],
  sink: Sink,
  clock: Clock,
  options: OpcUaOptions,
): OpenSource => {
  const watching: Watching = {
    source,
    index,
    signals: signals.filter((def) => def.source === index),
    sink,
    clock,
    last: new Map(),
    counts: { answers: 0, nothings: 0, reconnects: 0 },
    heard: clock.now(),
    proven: undefined,
    told: undefined,
    connected: false,
    lostAt: undefined,
    missed: 0,
  };
  const until = new AbortController();
  // While there is no connection, absence is told at the rate at which values would come.
  const silence = setInterval(
    () => {
      if (!watching.connected) absent(watching, 'interrupted');
    },
    Math.max(20, source.publishing / 1_000),
  );

  const run = async (): Promise<void> => {
    const library = await import('node-opcua-client');
    library.setWarningLogger((...words: unknown[]) => options.onLog?.(words.join(' ')));
    library.setErrorLogger((...words: unknown[]) => options.onLog?.(words.join(' ')));
    for (let tries = 0; !until.signal.aborted; tries += 1) {
      const why = await live(library, watching, options, until.signal);
      if (until.signal.aborted) break;
      if (watching.connected) tries = 0;
      lose(watching, why);
      await pause(backoff(tries), until.signal);
    }
  };
  const running = run();
  return {
    async stop() {
      until.abort();
      clearInterval(silence);
      await running;
    },
    stats: () => ({ connected: watching.connected, ...watching.counts, overruns: 0, lateness: 0 }),
  };
};

const pause = (ms: number, until: AbortSignal): Promise<void> =>
  new Promise((resolve) => {
    const timer = setTimeout(resolve, ms);
    until.addEventListener('abort', () => {
      clearTimeout(timer);
      resolve();
    });
  });
