/**
 * Stands between a client and a good peer and does to their traffic what a network, a converter or a failing device
 * does: one fault at a time, as it is told. Modbus is cut into frames, anything else is carried as bytes.
 */
import { type AddressInfo, connect, createServer, type Server, type Socket } from 'node:net';
import type { Instant } from '../../src/measure/index.ts';
import { type Carried, type Carrier, carriedOf, type Plan, planOf, type Wire } from './fault-frames.ts';
import type { Fault } from './faults.ts';
import { splitter } from './frames.ts';
import { ownHost } from './own-host.ts';
import { clock } from './truth.ts';

/** When the fault began, and when everything was right again for whoever asks anew. */
export interface Struck {
  readonly began: Instant;
  readonly over: Instant;
}

export interface FaultProxy {
  readonly host: string;
  readonly port: number;
  /** Strikes once, at the next question or answer that fits; one fault at a time. */
  strike(fault: Fault): Promise<Struck>;
  /** Connections of clients that are open. */
  connections(): number;
  /** When the first client was let in, from an instant on. */
  accepted(from: Instant): Instant | undefined;
  stop(): Promise<void>;
}

interface Relay {
  readonly client: Socket;
  readonly upstream: Socket;
  /** Bytes on hold, by where they go; undefined: carried at once. */
  held: (readonly [Socket, Buffer])[] | undefined;
  /** Nothing more reaches the client. */
  mute: boolean;
  /** Until when bytes to the client wait behind a slow frame. */
  tail: Promise<void>;
}

interface Armed {
  readonly plan: Plan;
  readonly done: (struck: Struck) => void;
  /** When the first frame came that it could take. */
  began?: Instant;
}

interface Hub {
  readonly wire: Wire;
  readonly peer: { readonly host: string; readonly port: number };
  readonly host: string;
  readonly relays: Set<Relay>;
  readonly timers: Set<NodeJS.Timeout>;
  readonly carried: Carried;
  port: number;
  server: Server | undefined;
  readonly accepted: Instant[];
  plan: Armed | undefined;
  muted: boolean;
  stopped: boolean;
}

const REMEMBERED = 100;

const later = (hub: Hub, ms: number, act: () => void): void => {
  const timer = setTimeout(() => {
    hub.timers.delete(timer);
    act();
  }, ms);
  hub.timers.add(timer);
};

const write = (relay: Relay, to: Socket, bytes: Buffer): void => {
  if (relay.held !== undefined) relay.held.push([to, bytes]);
  else if (!to.destroyed && to.writable && !(relay.mute && to === relay.client)) to.write(bytes);
};

const pause = (hub: Hub, ms: number): Promise<void> => new Promise((resolve) => later(hub, ms, resolve));

const drip = async (hub: Hub, relay: Relay, bytes: Buffer, gap: number): Promise<void> => {
  for (let at = 0; at < bytes.length; at += 1) {
    write(relay, relay.client, bytes.subarray(at, at + 1));
    if (at + 1 < bytes.length) await pause(hub, gap);
  }
};

/** A socket that is being closed already cannot be reset: Node would keep its handle for ever. */
const reset = (socket: Socket): void => {
  if (socket.writableEnded) socket.destroy();
  else socket.resetAndDestroy();
};

/** What a plan of one frame may do. */
const carrierOf = (hub: Hub, relay: Relay, over: () => void): Carrier => ({
  toPeer: (bytes) => write(relay, relay.upstream, bytes),
  toClient: (bytes) => {
    relay.tail = relay.tail.then(() => write(relay, relay.client, bytes));
  },
  drip: (bytes, gap, done) => {
    relay.tail = relay.tail.then(() => drip(hub, relay, bytes, gap)).then(done);
  },
  later: (ms, act) => later(hub, ms, act),
  mute: () => {
    relay.tail = relay.tail.then(() => {
      relay.mute = true;
    });
  },
  reset: () => reset(relay.client),
  end: () => relay.client.end(),
  over,
});

/** Hands a frame to the armed plan, if it wants it; a plan takes hold of one frame (or more, until it says it is over). */
const intercepted = (hub: Hub, relay: Relay, side: 'question' | 'answer', frame: Buffer): boolean => {
  const armed = hub.plan;
  if (armed === undefined) return false;
  const take = armed.plan[side];
  if (take === undefined) return false;
  armed.began ??= clock.now();
  const over = (): void => {
    if (hub.plan !== armed) return;
    hub.plan = undefined;
    armed.done({ began: armed.began ?? clock.now(), over: clock.now() });
  };
  return take(frame, carrierOf(hub, relay, over));
};

const serve = (hub: Hub, client: Socket): void => {
  hub.accepted.push(clock.now());
  if (hub.accepted.length > REMEMBERED) hub.accepted.shift();
  const upstream = connect({ ...hub.peer, noDelay: true });
  client.setNoDelay(true);
  const held = hub.muted ? [] : undefined;
  const relay: Relay = { client, upstream, held, mute: false, tail: Promise.resolve() };
  hub.relays.add(relay);
  const whole = (chunk: Buffer): Buffer[] => [chunk];
  const questions = hub.wire === 'bytes' ? whole : splitter(hub.wire, 'question');
  const answers = hub.wire === 'bytes' ? whole : splitter(hub.wire, 'answer');
  client.on('data', (chunk) => {
    for (const frame of questions(chunk)) {
      hub.carried.question(frame);
      if (!intercepted(hub, relay, 'question', frame)) write(relay, upstream, frame);
    }
  });
  upstream.on('data', (chunk) => {
    for (const frame of answers(chunk)) {
      const taken = intercepted(hub, relay, 'answer', frame);
      hub.carried.answer(frame);
      if (!taken) relay.tail = relay.tail.then(() => write(relay, client, frame));
    }
  });
  for (const socket of [client, upstream]) socket.on('error', () => undefined);
  client.on('close', () => {
    hub.relays.delete(relay);
    upstream.destroy();
  });
  upstream.on('close', () => {
    if (relay.held === undefined && !relay.mute) client.destroy();
  });
};

const listen = async (hub: Hub): Promise<void> => {
  const server = createServer((client) => serve(hub, client));
  hub.server = server;
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(hub.port, hub.host, resolve);
  });
  hub.port = (server.address() as AddressInfo).port;
};

/** Closed for newcomers at once; resolves when the port is free. */
const unlisten = (hub: Hub): Promise<void> =>
  new Promise((resolve) => {
    if (hub.server === undefined) resolve();
    else hub.server.close(() => resolve());
    hub.server = undefined;
    for (const { client } of hub.relays) reset(client);
  });

/** Faults of the line, not of a frame. */
const strikeLine = async (hub: Hub, fault: Fault): Promise<Struck | undefined> => {
  const began = clock.now();
  switch (fault.kind) {
    case 'restart':
      await unlisten(hub);
      await pause(hub, fault.ms);
      if (!hub.stopped) await listen(hub);
      break;
    case 'half-open':
    case 'mute': {
      hub.muted = fault.kind === 'mute';
      const struck = new Set(hub.relays);
      for (const relay of struck) relay.held = [];
      await pause(hub, fault.ms);
      hub.muted = false;
      for (const relay of fault.kind === 'mute' ? hub.relays : struck) {
        const held = relay.held ?? [];
        if (fault.kind === 'half-open' && !fault.release) relay.mute = true;
        relay.held = undefined;
        for (const [to, bytes] of held) write(relay, to, bytes);
      }
      break;
    }
    case 'reset':
    case 'end':
      if (fault.when !== 'now') return undefined;
      for (const { client } of hub.relays) {
        if (fault.kind === 'end') client.end();
        else reset(client);
      }
      break;
    default:
      return undefined;
  }
  return { began, over: clock.now() };
};

export const startFaultProxy = async (wire: Wire, port: number, host = '127.0.0.1'): Promise<FaultProxy> => {
  const hub: Hub = {
    wire,
    peer: { host, port },
    host: ownHost(),
    relays: new Set(),
    timers: new Set(),
    carried: carriedOf(wire),
    port: 0,
    server: undefined,
    accepted: [],
    plan: undefined,
    muted: false,
    stopped: false,
  };
  await listen(hub);
  return {
    host: hub.host,
    port: hub.port,
    strike: async (fault) => {
      const line = await strikeLine(hub, fault);
      if (line !== undefined) return line;
      return new Promise((done) => {
        hub.plan = { plan: planOf(fault, hub.wire, hub.carried), done };
      });
    },
    connections: () => hub.relays.size,
    accepted: (from) => hub.accepted.find((at) => at >= from),
    async stop() {
      hub.stopped = true;
      await unlisten(hub);
      for (const { client, upstream } of hub.relays) {
        client.destroy();
        upstream.destroy();
      }
      for (const timer of hub.timers) clearTimeout(timer);
    },
  };
};
