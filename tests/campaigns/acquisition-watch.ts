/** Watches one client behind a fault proxy: strikes, and counts what comes until the client is well again. */
import type { Instant } from '../../src/measure/index.ts';
import type { FaultProxy, Struck } from '../servers/fault-proxy.ts';
import { clock } from '../servers/truth.ts';
import type { Drawn } from './acquisition-draw.ts';

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

/** What came for one request (or item), and when it was asked at the earliest. */
export interface Come {
  readonly request: number;
  readonly sent: Instant;
  readonly received: Instant;
  /** Why there is no value; undefined: there is one. */
  readonly absent: string | undefined;
  /** Places of the request that have a value, of so many. */
  readonly places: readonly number[];
  readonly of: number;
}

export interface Watcher {
  wrong(what: string): void;
  came(one: Come): void;
  /** Resolves once every request has a value. */
  well(): Promise<boolean>;
  suffer(drawn: Drawn): Promise<Suffered>;
  stop(): void;
}

/** Nothing takes this long but a hang, ms. */
const PATIENCE = 30_000;
/** Values behind the recovery that are watched too, for what a fault leaves behind. */
const AFTER = 2;
const SLEEP_STEP = 10;
/** Milliseconds that a timer may be late on a machine at rest. */
const PUNCTUAL = 2;

/** One request since the peer's return. */
interface Asked {
  slots: number;
  /** Slots that came before anybody was let in. */
  unconnected: number;
  /** Places that have been seen since the last time that all had: a request may be asked in parts. */
  readonly seen: Set<number>;
  firstGood: Instant | undefined;
  goods: number;
}

interface Watch {
  began: Instant | undefined;
  over: Instant | undefined;
  readonly wrongs: string[];
  readonly absences: Record<string, number>;
  readonly requests: readonly Asked[];
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

const cover = (own: Asked, { places, of, received }: Come): void => {
  for (const place of places) own.seen.add(place);
  if (own.seen.size < of) return;
  own.seen.clear();
  own.firstGood ??= received;
  own.goods += 1;
};

const take = (now: Watch, proxy: FaultProxy, one: Come): void => {
  const { absent, sent } = one;
  const own = now.requests[one.request]!;
  if (absent !== undefined) now.absences[absent] = (now.absences[absent] ?? 0) + 1;
  if (now.over !== undefined && sent >= now.over) {
    if (one.places.length > 0) cover(own, one);
    else if (own.firstGood === undefined && absent !== undefined) {
      own.slots += 1;
      // Anew with each slot until somebody was let in: what came before does not count.
      const accepted = proxy.accepted(now.over);
      if (accepted === undefined || sent < accepted) own.unconnected = own.slots;
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

const told = (now: Watch, period: number, reconnected: boolean, trouble: string | undefined): Suffered => {
  const { over } = now;
  const last = Math.max(...now.requests.map((one) => one.firstGood ?? Number.POSITIVE_INFINITY));
  return {
    wrongs: now.wrongs,
    absences: now.absences,
    slots: Math.max(...now.requests.map((one) => one.slots)),
    slotsConnected: Math.max(...now.requests.map((one) => one.slots - (reconnected ? one.unconnected : 0))),
    periods: over === undefined ? Number.POSITIVE_INFINITY : (last - over) / (period * 1_000),
    lasted: over === undefined || now.began === undefined ? 0 : (over - now.began) / 1_000,
    asleep: now.asleep,
    ...(trouble !== undefined && { trouble }),
  };
};

const sufferOn = async (
  proxy: FaultProxy,
  connections: number,
  now: Watch,
  { fault }: Drawn,
): Promise<string | undefined> => {
  const struck = await bounded(proxy.strike(fault));
  if (struck === undefined) return 'it found nothing to strike';
  now.began = struck.began;
  now.over = struck.over;
  if (!(await until(now, () => now.requests.every((one) => one.firstGood !== undefined))))
    return 'it did not recover';
  if (!(await until(now, () => now.requests.every((one) => one.goods > AFTER))))
    return 'it did not stay well';
  if (!(await until(now, () => proxy.connections() === connections)))
    return `${proxy.connections()} connections in place of ${connections}`;
  return undefined;
};

/** `period`: milliseconds from one slot to the next. */
export const watchOver = (proxy: FaultProxy, requests: number, period: number): Watcher => {
  let now = newWatch(requests);
  now.over = clock.now();
  let connections = 0;
  let woke = performance.now();
  const nap = setInterval(() => {
    const at = performance.now();
    now.asleep += Math.max(0, at - woke - SLEEP_STEP - PUNCTUAL);
    woke = at;
  }, SLEEP_STEP);
  return {
    wrong: (what) => now.wrongs.push(what),
    came: (one) => take(now, proxy, one),
    async well() {
      const well = await until(now, () => now.requests.every((one) => one.goods > 0));
      connections = proxy.connections();
      return well;
    },
    async suffer(drawn) {
      now = newWatch(requests);
      const trouble = await sufferOn(proxy, connections, now, drawn);
      const reconnected = now.over !== undefined && proxy.accepted(now.over) !== undefined;
      return told(now, period, reconnected, trouble);
    },
    stop: () => clearInterval(nap),
  };
};
