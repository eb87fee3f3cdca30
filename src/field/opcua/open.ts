import type { OpcUaSource, SignalDef } from '../../signal/index.ts';
import { backoff } from '../backoff.ts';
import type { Clock, OpenSource, Sink } from '../types.ts';
import { watchClock } from './clock.ts';
import { connectOpcUa, type Opened } from './connect.ts';
import { type Subscription, subscribe } from './subscription.ts';
import { troubleOf } from './trouble.ts';
import { note, type OpcUaOptions, type OpcUaTrouble, tellAbsent, type Watching } from './types.ts';

const pause = (ms: number, until: AbortSignal): Promise<void> =>
  new Promise((resolve) => {
    const end = (): void => {
      clearTimeout(timer);
      until.removeEventListener('abort', end);
      resolve();
    };
    const timer = setTimeout(end, ms);
    until.addEventListener('abort', end);
    if (until.aborted) end();
  });

const told = (watching: Watching): number => Math.max(20, watching.source.publishing / 1_000);

const lose = (watching: Watching, trouble: OpcUaTrouble, reason: { last: string }): void => {
  const { source, clock, index, sink } = watching;
  const params = { endpoint: source.endpoint, stage: trouble.stage, ...trouble.params };
  watching.connected = false;
  const same = reason.last === trouble.code;
  reason.last = trouble.code;
  if (watching.lostAt === undefined) {
    watching.lostAt = clock.now();
    watching.missed = 0;
    sink.event({ kind: 'lost', source: index, at: watching.lostAt, code: trouble.code, params });
  } else if (!same) {
    // Lost already, and now for another reason: that is what has to be mended next.
    note(watching, 'note', trouble.code, params);
  }
};

const back = (watching: Watching, reason: { last: string }): void => {
  watching.connected = true;
  reason.last = '';
  const { lostAt: since, sink, clock, index, missed, source } = watching;
  if (since === undefined) return;
  const params = { endpoint: source.endpoint };
  sink.event({ kind: 'back', source: index, at: clock.now(), since, missed, code: 'back', params });
  watching.lostAt = undefined;
  watching.counts.reconnects += 1;
};

const IDLE: OpcUaTrouble = { stage: 'connection', code: 'connection-lost', params: {} };

interface Life {
  readonly watching: Watching;
  readonly until: AbortSignal;
  readonly reason: { last: string };
}

/**
 * Watches a subscription until it is silent for longer than the source's time-out, whatever its session says. That it
 * delivers, also after a return, is believed when the first word of it has come.
 */
const follow = (
  { watching, until }: Life,
  subscription: Subscription,
  ended: Promise<OpcUaTrouble>,
): Promise<OpcUaTrouble> => {
  const { source, clock } = watching;
  const { publishing, keepAlive } = subscription.terms;
  const period = publishing * (keepAlive + 1);
  // A server that speaks more seldom than the time-out was given another interval than it was asked for.
  const patience = Math.max(source.timeout, 2 * period);
  const fresh = period + 200_000;
  const began = clock.now();
  let complained = false;
  /** Items that have not come at all, although others do. */
  const lookForMute = (): void => {
    const mute = subscription.silent();
    const ids = mute.map(({ def }) => def.id);
    tellAbsent(watching, ids, 'timed-out');
    if (mute.length === 0 || complained) return;
    complained = true;
    note(watching, 'note', 'items-silent', { items: mute.length, first: mute[0]?.def.name ?? '' });
  };
  const all = watching.signals.map((def) => def.id);
  return new Promise((resolve) => {
    const finish = (trouble: OpcUaTrouble): void => {
      clearInterval(timer);
      until.removeEventListener('abort', stop);
      resolve(trouble);
    };
    const stop = (): void => finish(IDLE);
    const look = (): void => {
      const heard = subscription.heard();
      const now = clock.now();
      const silent = now - (heard ?? began);
      if (silent > patience) finish({ ...IDLE, code: heard === undefined ? 'never-delivered' : 'silent' });
      else if (watching.connected && silent > fresh) tellAbsent(watching, all, 'timed-out');
      else if (watching.connected) {
        tellAbsent(watching, subscription.refused(), 'refused');
        if (now - began > source.timeout) lookForMute();
      }
    };
    const timer = setInterval(look, told(watching));
    until.addEventListener('abort', stop);
    if (until.aborted) stop();
    void ended.then(finish);
  });
};

/** Runs on one session until it ends; says why it did. */
const live = async (life: Life, opened: Opened): Promise<OpcUaTrouble> => {
  const { watching } = life;
  const { library, session } = opened;
  let end: (trouble: OpcUaTrouble) => void = () => undefined;
  const ended = new Promise<OpcUaTrouble>((resolve) => {
    end = resolve;
  });
  opened.onLost(() => end(IDLE));
  const clock = watchClock(library, session, watching);
  const making = clock.asked.then(() =>
    subscribe(library, session, watching, {
      delivers: () => back(watching, life.reason),
      ended: (detail) => end({ ...IDLE, code: 'subscription-ended', params: { detail } }),
    }),
  );
  // A connection that breaks meanwhile fails the questions that wait; nobody else has to wait for them.
  const stop = (): void => end(IDLE);
  life.until.addEventListener('abort', stop);
  if (life.until.aborted) stop();
  const subscription = await Promise.race([making, ended]).catch((error: unknown) =>
    troubleOf(error, 'items'),
  );
  life.until.removeEventListener('abort', stop);
  if (!('terms' in subscription)) {
    clock.stop();
    making.then(
      (late) => late.stop(),
      () => undefined,
    );
    return subscription;
  }
  const why = await follow(life, subscription, ended);
  clock.stop();
  subscription.stop();
  return why;
};

const connectAndLive = async (life: Life): Promise<OpcUaTrouble> => {
  const { watching, until } = life;
  const { endpoint, access, timeout } = watching.source;
  const opened = await connectOpcUa({ endpoint, access, timeout: timeout / 1_000 }, watching.options, until);
  if ('trouble' in opened) return opened.trouble;
  const why = await live(life, opened);
  await opened.close(!until.aborted);
  return why;
};

/**
 * Subscribes to a server's items; reads, browses and subscribes, and calls nothing else. Rebuilds itself. Tells `terms`
 * before the first items, `clock` several times at each connection, absence at the rate of values while there are none.
 */
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
    options,
    counts: { answers: 0, nothings: 0, reconnects: 0 },
    namespaces: new Map(),
    terms: '[]',
    connected: false,
    lostAt: undefined,
    missed: 0,
  };
  const until = new AbortController();
  const life: Life = { watching, until: until.signal, reason: { last: '' } };
  const ids = watching.signals.map((def) => def.id);
  const silence = setInterval(() => {
    if (watching.connected) return;
    watching.missed += 1;
    tellAbsent(watching, ids, 'interrupted');
  }, told(watching));

  const run = async (): Promise<void> => {
    for (let tries = 0; !until.signal.aborted; tries += 1) {
      const why = await connectAndLive(life);
      if (until.signal.aborted) break;
      if (watching.connected) tries = 0;
      lose(watching, why, life.reason);
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
    // A server sends what changes; it is not asked more often for a window.
    focus: () => undefined,
    stats: () => ({
      connected: watching.connected,
      ...watching.counts,
      overruns: 0,
      lateness: 0,
      rates: [],
    }),
  };
};
