/** One client, one good peer, and a fault proxy between them; suffers one fault after the other. */
import type { Instant } from '../../src/measure/index.ts';
import type { Answer, Line, SignalDef } from '../../src/signal/index.ts';
import { type ClockedPeer, startClockedPeer } from '../servers/clocked-peer.ts';
import { type FaultProxy, type Struck, startFaultProxy } from '../servers/fault-proxy.ts';
import { startLine } from '../servers/lines.ts';
import { createOracle, liveSignal, type Oracle } from '../servers/oracle.ts';
import { modbusSource, type Opened, openSources } from '../servers/sources.ts';
import { clock } from '../servers/truth.ts';
import { type Drawn, type Kind, POLL, TIMEOUT } from './acquisition-draw.ts';

/** What one fault did. */
export interface Suffered {
  /** Every answer that was good and not true. */
  readonly wrongs: readonly string[];
  /** Why there was no value, and how often, from the fault's beginning to the recovery. */
  readonly absences: Readonly<Record<string, number>>;
  /** Slots of the worst request that had no value although the peer was back. */
  readonly slots: number;
  /** The same, from the first connection that the peer took after its return. */
  readonly slotsConnected: number;
  /** Poll periods from the peer's return to the first value of the last request. */
  readonly periods: number;
  /** How long the fault itself took, ms: a timer may be late. */
  readonly lasted: number;
  /** Time in ms that this process was not given; while it sleeps nobody is prompt. */
  readonly asleep: number;
  readonly trouble?: string;
}

export interface Lane {
  suffer(drawn: Drawn): Promise<Suffered>;
  stop(): Promise<void>;
}

/** Nothing takes this long but a hang, ms. */
const PATIENCE = 30_000;
/** Values behind the recovery that are watched too, for what a fault leaves behind. */
const AFTER = 2;

const signalsOf = (units: number): SignalDef[] => {
  const signals: SignalDef[] = [];
  const add = (
    source: number,
    table: Parameters<typeof liveSignal>[2],
    from: number,
    to: number,
    width: 1 | 2 = 1,
  ) => {
    for (let at = from; at < to; at += width)
      signals.push(liveSignal(signals.length, source, table, at, width));
  };
  for (let source = 0; source < units; source += 1) {
    // No two questions of a unit have answers of one shape: on a line without ids the shape is all there is.
    add(source, 'holding', 200, 208);
    add(source, 'holding', 230, 234, 2);
    add(source, 'input', 200, 210);
    add(source, 'coil', 64, 88);
  }
  return signals;
};

/** One request since the peer's return. */
interface Asked {
  slots: number;
  /** Slots that came before anybody was let in. */
  unconnected: number;
  /** Words that have been seen since the last time that all had. */
  readonly seen: Set<number>;
  firstGood: Instant | undefined;
  goods: number;
}

/** Answers as they come, of this fault. */
interface Watch {
  began: Instant | undefined;
  over: Instant | undefined;
  readonly wrongs: string[];
  readonly absences: Record<string, number>;
  readonly requests: Asked[];
  asleep: number;
  check(): void;
}

const newWatch = (requests: number): Watch => ({
  began: undefined,
  over: undefined,
  wrongs: [],
  absences: {},
  requests: Array.from({ length: requests }, () => ({
    slots: 0,
    unconnected: 0,
    seen: new Set(),
    firstGood: undefined,
    goods: 0,
  })),
  asleep: 0,
  check: () => undefined,
});

/** In the place of a word that the device refuses. */
const REFUSED = -1;

/** A request may be asked in parts: it has a value once every word of it has come. */
const cover = (own: Asked, { words, received }: Answer & { readonly kind: 'words' }): void => {
  words.forEach((word, at) => {
    if (word >= 0) own.seen.add(at);
  });
  if (own.seen.size < words.length) return;
  own.seen.clear();
  own.firstGood ??= received;
  own.goods += 1;
};

const take = (now: Watch, oracle: Oracle, proxy: FaultProxy, answer: Answer): void => {
  const wrong = oracle.wrong(answer);
  if (wrong !== undefined) now.wrongs.push(wrong);
  if (answer.kind !== 'words' && answer.kind !== 'nothing') return;
  const own = now.requests[answer.request]!;
  const why = answer.kind === 'nothing' ? answer.why : 'refused';
  if (answer.kind === 'nothing' || answer.words.includes(REFUSED))
    now.absences[why] = (now.absences[why] ?? 0) + 1;
  if (now.over !== undefined && answer.sent >= now.over) {
    if (answer.kind === 'words') cover(own, answer);
    else if (own.firstGood === undefined) {
      own.slots += 1;
      // Anew with each slot until somebody was let in: what came before does not count.
      const accepted = proxy.accepted(now.over);
      if (accepted === undefined || answer.sent < accepted) own.unconnected = own.slots;
    }
  }
  now.check();
};

const until = (now: Watch, test: () => boolean): Promise<boolean> =>
  new Promise((resolve) => {
    const timer = setTimeout(() => resolve(false), PATIENCE);
    now.check = () => {
      if (!test()) return;
      now.check = () => undefined;
      clearTimeout(timer);
      resolve(true);
    };
    now.check();
  });

const bounded = async (work: Promise<Struck>): Promise<Struck | undefined> => {
  let timer: NodeJS.Timeout | undefined;
  const tooLong = new Promise<undefined>((resolve) => {
    timer = setTimeout(() => resolve(undefined), PATIENCE);
  });
  const got = await Promise.race([work, tooLong]);
  clearTimeout(timer);
  return got;
};

const SLEEP_STEP = 10;
/** Milliseconds that a timer may be late on a machine at rest. */
const PUNCTUAL = 2;

const suffered = (now: Watch, reconnected: boolean, trouble: string | undefined): Suffered => {
  const { over } = now;
  const last = Math.max(...now.requests.map((one) => one.firstGood ?? Number.POSITIVE_INFINITY));
  return {
    wrongs: now.wrongs,
    absences: now.absences,
    slots: Math.max(...now.requests.map((one) => one.slots)),
    slotsConnected: Math.max(...now.requests.map((one) => one.slots - (reconnected ? one.unconnected : 0))),
    periods: over === undefined ? Number.POSITIVE_INFINITY : (last - over) / (POLL * 1_000),
    lasted: over === undefined || now.began === undefined ? 0 : (over - now.began) / 1_000,
    asleep: now.asleep,
    ...(trouble !== undefined && { trouble }),
  };
};

interface Rig {
  readonly peer: ClockedPeer;
  readonly proxy: FaultProxy;
  readonly opened: Opened;
  /** Connections that a healthy client has. */
  readonly connections: number;
}

const lineOf = (kind: Kind, host: string, port: number, path: string): Line => {
  switch (kind) {
    case 'rtu over tcp':
      return { kind: 'rtu-over-tcp', host, port };
    case 'rtu on a line':
      return { kind: 'serial', path, baud: 115_200, parity: 'none', dataBits: 8, stopBits: 1 };
    default:
      return { kind: 'tcp', host, port };
  }
};

const sufferOn = async (rig: Rig, now: Watch, { fault }: Drawn): Promise<string | undefined> => {
  const { proxy } = rig;
  const struck = await bounded(proxy.strike(fault));
  if (struck === undefined) return 'it found nothing to strike';
  now.began = struck.began;
  now.over = struck.over;
  if (!(await until(now, () => now.requests.every((one) => one.firstGood !== undefined))))
    return 'it did not recover';
  if (!(await until(now, () => now.requests.every((one) => one.goods > AFTER))))
    return 'it did not stay well';
  if (!(await until(now, () => proxy.connections() === rig.connections)))
    return `${proxy.connections()} connections in place of ${rig.connections}`;
  return undefined;
};

export const openLane = async (kind: Kind): Promise<Lane> => {
  const framing = kind.startsWith('rtu') ? 'rtu' : 'mbap';
  const units = kind === 'tcp, 2 units' ? [1, 2] : [1];
  const peer = await startClockedPeer(framing);
  const proxy = await startFaultProxy(framing, peer.port);
  const wire = kind === 'rtu on a line' ? await startLine(`${proxy.host}:${proxy.port}`) : undefined;
  const line = lineOf(kind, proxy.host, proxy.port, wire?.path ?? '');
  const inFlight = kind === 'tcp, 4 in flight' ? 4 : 1;
  const sources = units.map((unit) =>
    modbusSource({
      line,
      unit,
      poll: POLL * 1_000,
      windowPoll: POLL * 1_000,
      slowPoll: POLL * 1_000,
      timeout: TIMEOUT * 1_000,
      inFlight,
    }),
  );
  const signals = signalsOf(units.length);
  let now = newWatch(0);
  const oracles: Oracle[] = [];
  const early: Answer[] = [];
  const opened = openSources(sources, signals, {
    answer: (answer) => {
      const oracle = oracles[0];
      if (oracle === undefined) early.push(answer);
      else take(now, oracle, proxy, answer);
    },
    event: () => undefined,
  });
  oracles.push(createOracle(signals, sources, opened.plan));
  const requests = opened.plan.requests.length;
  now = newWatch(requests);
  now.over = clock.now();
  for (const answer of early) take(now, oracles[0]!, proxy, answer);
  let woke = performance.now();
  const nap = setInterval(() => {
    const at = performance.now();
    now.asleep += Math.max(0, at - woke - SLEEP_STEP - PUNCTUAL);
    woke = at;
  }, SLEEP_STEP);
  if (!(await until(now, () => now.requests.every((one) => one.goods > 0))))
    throw new Error(`${kind}: no values`);
  const rig: Rig = { peer, proxy, opened, connections: proxy.connections() };
  return {
    async suffer(drawn) {
      now = newWatch(requests);
      const trouble = await sufferOn(rig, now, drawn);
      const reconnected = now.over !== undefined && proxy.accepted(now.over) !== undefined;
      return suffered(now, reconnected, trouble);
    },
    async stop() {
      clearInterval(nap);
      await opened.stop();
      await wire?.stop();
      await proxy.stop();
      await peer.stop();
    },
  };
};
