/** One OPC UA source on a server; answers and events as they come, and a proxy that can hold bytes. */
import { mkdtempSync } from 'node:fs';
import { type AddressInfo, connect, createServer, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type OpcUaOptions, type OpenSource, openOpcUa } from '../../../src/field/index.ts';
import type { SignalId } from '../../../src/measure/index.ts';
import { NAMESPACE } from '../../../src/plant/index.ts';
import type { Address, Item, OpcUaAccess, OpcUaSource, SignalDef } from '../../../src/signal/index.ts';
import { type Recorder, recorder } from './recorder.ts';
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

export interface Watched extends Omit<Recorder, 'sink'> {
  readonly source: OpenSource;
  /** Items of all answers, in order. */
  items(): Item[];
}

export const watchOpcUa = (
  endpoint: string,
  defs: readonly SignalDef[],
  more: Partial<OpcUaSource> = {},
  options: Partial<OpcUaOptions> = {},
): Watched => {
  const { sink, ...recorded } = recorder();
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
    ...recorded,
    source: opened,
    items: () => recorded.answers.flatMap((answer) => (answer.kind === 'items' ? answer.items : [])),
  };
};

export const good = (item: Item): boolean => item.value !== null && item.status >>> 30 === 0;

/** Binary encoding id of a message under security policy None: 24 bytes of headers, then a four-byte NodeId. */
const kindOf = (message: Buffer): number =>
  message.toString('latin1', 0, 3) === 'MSG' && message[24] === 1 ? message.readUInt16LE(26) : 0;

/** Cuts a stream into whole messages (OPC 10000-6, 7.1.2: the size stands behind four bytes). */
const messages = (each: (message: Buffer) => void): ((data: Buffer) => void) => {
  let rest = Buffer.alloc(0);
  return (data) => {
    rest = Buffer.concat([rest, data]);
    while (rest.length >= 8 && rest.length >= rest.readUInt32LE(4)) {
      const size = rest.readUInt32LE(4);
      each(rest.subarray(0, size));
      rest = rest.subarray(size);
    }
  };
};

/** What the proxy lets through, by binary encoding id; 0: no service. */
export interface Passage {
  readonly asked?: (kind: number) => void;
  /** False: the message goes missing, as if the server had never sent it; the channel's own numbers stay unbroken. */
  readonly answered?: (kind: number, message: Buffer) => boolean;
}

/** Sequence number of a chunk, behind the ids of channel and token (OPC 10000-6, 6.7.2). */
const SEQUENCE = 16;

export interface Proxy {
  readonly endpoint: string;
  /** Bytes are kept back while this is so; connections are accepted all the same. */
  hold(held: boolean): void;
  /** Connections that are open towards us. */
  open(): number;
  stop(): Promise<void>;
}

/** Stands before a server. */
export const proxy = async (endpoint: string, passage: Passage = {}): Promise<Proxy> => {
  const to = new URL(endpoint.replace('opc.tcp', 'http'));
  const sockets = new Set<Socket>();
  let open = 0;
  let held = false;
  const forward = (from: Socket, on: Socket, pass: (message: Buffer) => boolean): void => {
    sockets.add(from);
    if (held) from.pause();
    from.on(
      'data',
      messages((message) => {
        if (pass(message)) on.write(message);
      }),
    );
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
    forward(socket, on, (message) => {
      passage.asked?.(kindOf(message));
      return true;
    });
    let missing = 0;
    forward(on, socket, (message) => {
      const kind = kindOf(message);
      if (passage.answered?.(kind, message) === false) {
        missing += 1;
        return false;
      }
      if (missing > 0 && kind > 0) message.writeUInt32LE(message.readUInt32LE(SEQUENCE) - missing, SEQUENCE);
      return true;
    });
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
