/** One OPC UA source on a server; answers and events as they come, and a proxy that can hold bytes. */
import { mkdtempSync } from 'node:fs';
import { type AddressInfo, connect, createServer, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type FieldEvent, type OpcUaOptions, type OpenSource, openOpcUa } from '../../../src/field/index.ts';
import type { SignalId } from '../../../src/measure/index.ts';
import { NAMESPACE } from '../../../src/plant/index.ts';
import type {
  Address,
  Answer,
  Item,
  OpcUaAccess,
  OpcUaSource,
  SignalDef,
} from '../../../src/signal/index.ts';
import { clock } from './rig.ts';

export const folder = (): string => mkdtempSync(join(tmpdir(), 'tripwitness-pki-'));

export const ANONYMOUS: OpcUaAccess = { mode: 'none', policy: 'Basic256Sha256', user: { kind: 'anonymous' } };

export const inPlant = (name: string): Address => ({ kind: 'opc-ua', namespace: NAMESPACE, id: `s=${name}` });

export const signals = (...addresses: readonly Address[]): SignalDef[] =>
  addresses.map((address, index) => ({
    id: index as SignalId,
    name: `s${index}`,
    source: 0,
    address,
    decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
    quantity: 'count',
    unit: 'count',
    states: [],
    resolution: 0,
    accuracy: 0,
    age: 0,
    agedAfter: 2_000_000,
  }));

export interface Watched {
  readonly answers: Answer[];
  readonly events: FieldEvent[];
  readonly source: OpenSource;
  /** Items of all answers, in order. */
  items(): Item[];
  /** Resolves once what came satisfies the test. */
  until(test: () => boolean): Promise<void>;
}

export const watchOpcUa = (
  endpoint: string,
  defs: readonly SignalDef[],
  more: Partial<OpcUaSource> = {},
  options: Partial<OpcUaOptions> = {},
): Watched => {
  const answers: Answer[] = [];
  const events: FieldEvent[] = [];
  let check = (): void => undefined;
  const sink = {
    answer: (answer: Answer) => {
      answers.push(answer);
      check();
    },
    event: (event: FieldEvent) => {
      events.push(event);
      check();
    },
  };
  const source: OpcUaSource = {
    protocol: 'opc-ua',
    name: 'ua',
    endpoint,
    access: ANONYMOUS,
    sampling: 50_000,
    publishing: 100_000,
    queue: 10,
    timeout: 3_000_000,
    scan: 20_000,
    ...more,
  };
  const opened = openOpcUa(source, 0, defs, sink, clock, { pki: folder(), ...options });
  return {
    answers,
    events,
    source: opened,
    items: () => answers.flatMap((answer) => (answer.kind === 'items' ? answer.items : [])),
    until: (test) =>
      new Promise((resolve) => {
        check = () => {
          if (test()) resolve();
        };
        check();
      }),
  };
};

export const good = (item: Item): boolean => item.value !== null && item.status >>> 30 === 0;

export interface Proxy {
  readonly endpoint: string;
  /** Bytes are kept back while this is so; connections are accepted all the same. */
  hold(held: boolean): void;
  /** Connections that are open towards us. */
  open(): number;
  stop(): Promise<void>;
}

/** Stands before a server. */
export const proxy = async (endpoint: string): Promise<Proxy> => {
  const to = new URL(endpoint.replace('opc.tcp', 'http'));
  const sockets = new Set<Socket>();
  let open = 0;
  let held = false;
  const forward = (from: Socket, on: Socket): void => {
    sockets.add(from);
    if (held) from.pause();
    from.on('data', (data) => on.write(data));
    from.on('error', () => undefined);
    from.on('close', () => {
      sockets.delete(from);
      on.destroy();
    });
  };
  const server = createServer((socket) => {
    open += 1;
    socket.on('close', () => {
      open -= 1;
    });
    const on = connect(Number(to.port), to.hostname);
    forward(socket, on);
    forward(on, socket);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    endpoint: `opc.tcp://127.0.0.1:${(server.address() as AddressInfo).port}`,
    hold(next) {
      held = next;
      for (const socket of sockets)
        if (next) socket.pause();
        else socket.resume();
    },
    open: () => open,
    stop: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        for (const socket of sockets) socket.destroy();
      }),
  };
};
