/**
 * A made-up OPC UA server, its clock, and the way to it. What was so at which instant is known by construction: each
 * value is used once, from its own change to the next.
 */
import { instant, type SignalId } from '../../src/measure/index.ts';
import type { Answer, Item, OpcUaSource, SignalDef } from '../../src/signal/index.ts';
import { type Random, seeded } from './random.ts';

const MS = 1_000;
const S = 1_000_000;
const ZERO = 1_764_063_000 * S;
const SIGNALS = 3;

/** What the decoder may rest on. */
export const WAYS = ['declared', 'measured', 'unknown-asked', 'unknown'] as const;
export type Way = (typeof WAYS)[number];

export interface Story {
  readonly way: Way;
  readonly source: OpcUaSource;
  readonly signals: readonly SignalDef[];
  readonly answers: readonly Answer[];
  /** By signal: when each value began; the next one ended it. µs. */
  readonly began: readonly (readonly number[])[];
}

interface Clock {
  readonly shown: (at: number) => number;
}

/** A clock that is wrong, runs wrong, and counts in steps. `within`: never wrong by more. */
const clockOf = (random: Random, within: number | undefined): Clock => {
  const tick = within === undefined ? random.pick([1, MS, 10 * MS, 100 * MS, S]) : MS;
  const wrong = within === undefined ? random.pick([random.between(-9_000, 9_000), 0, 0.03]) * S : 0;
  // Within what two clocks can part; back and forth, so that a bound holds for the whole story.
  const swing = within === undefined ? random.between(0, 1) : 0;
  const rate = (swing * 1_100e-6 * 8 * S) / (2 * Math.PI);
  const offset = within === undefined ? wrong : random.between(-within + tick, within);
  const ahead = (at: number): number => offset + rate * Math.sin((2 * Math.PI * at) / (8 * S));
  return { shown: (at) => Math.floor((at + ahead(at)) / tick) * tick };
};

interface Event {
  readonly at: number;
  readonly happen: () => void;
}

const defOf = (index: number, age: number): SignalDef => ({
  id: index as SignalId,
  name: `s${index}`,
  source: 0,
  address: { kind: 'opc-ua', namespace: '', id: `s=${index}` },
  decoding: { as: 'value', scale: 1, offset: 0, inverted: false },
  quantity: 'count',
  unit: 'count',
  states: [],
  resolution: 0,
  accuracy: 0,
  age,
  agedAfter: 60 * S,
});

const changesOf = (random: Random, length: number): number[] => {
  const pace = random.pick([60 * MS, 300 * MS, 3 * S]);
  const began = [-S];
  for (;;) {
    const next = began.at(-1)! + random.between(0.1, 2) * pace;
    if (next > length) return began;
    began.push(Math.floor(next));
  }
};

const valueAt = (began: readonly number[], at: number): number => began.findLastIndex((start) => start <= at);

/**
 * Mostly quick, now and then very late; words of one connection stay in their order. `most`: never later; before the
 * clock has been asked nobody can know of a delay.
 */
const wayOf = (random: Random, most: (at: number) => number) => {
  const base = random.pick([200, 2 * MS, 15 * MS]);
  const stalls = random.pick([0, 0.02, 0.2]);
  const delay = (at: number): number => {
    const late = random.chance(stalls) ? random.between(0, 2 * S) : random.between(0, base);
    return Math.min(base + late, most(at));
  };
  let arrived = Number.NEGATIVE_INFINITY;
  return {
    there: (at: number) => at + delay(at),
    back: (at: number) => {
      arrived = Math.max(arrived, at + delay(at));
      return Math.ceil(arrived);
    },
  };
};

/** What was asked of a server may be granted as less: longer intervals, or shorter ones where it likes. */
const grantedOf = (random: Random, asked: number): number =>
  Math.round(asked * random.pick([0.5, 1, 1, 2, 5]));

export const storyOf = (seed: number): Story => {
  const random = seeded(seed);
  const way = random.pick(WAYS);
  const length = random.between(4, 12) * S;
  const bound = random.pick([5 * MS, 20 * MS, 100 * MS]);
  const asked = {
    sampling: random.pick([10 * MS, 50 * MS, 100 * MS]),
    publishing: random.pick([50 * MS, 100 * MS, 500 * MS]),
  };
  const age = random.pick([0, 20 * MS]);
  const source: OpcUaSource = {
    protocol: 'opc-ua',
    name: 'ua',
    endpoint: 'opc.tcp://h',
    access: { mode: 'none', policy: 'Basic256Sha256', user: { kind: 'anonymous' } },
    ...asked,
    queue: 10,
    timeout: 5 * S,
    scan: age,
    ...(way === 'declared' && { clockBound: bound }),
    ...(way === 'measured' && { sourceClock: 'server' }),
  };
  const signals = Array.from({ length: SIGNALS }, (_, index) => defOf(index, age));
  const began = signals.map(() => changesOf(random, length));
  const clock = clockOf(random, way === 'declared' ? bound : undefined);
  const asks = way === 'measured' || way === 'unknown-asked';
  let known = way === 'declared' ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  /** Some servers say in a keep-alive when that was, some do not; then nobody can know of its delay either. */
  const dates = random.chance(0.8);
  const road = wayOf(random, (at) =>
    at < known || !dates ? Math.min(asked.sampling, asked.publishing) : 9 * S,
  );
  const answers: { at: number; answer: Answer }[] = [];
  const events: Event[] = [];
  const tell = (answer: Answer): void => {
    answers.push({ at: answer.received - ZERO, answer });
  };
  const us = (at: number) => instant(ZERO + at);

  const askClock = (at: number): void => {
    const read = road.there(at);
    const theirs = instant(ZERO + clock.shown(read));
    const received = road.back(read);
    tell({ kind: 'clock', source: 0, sent: us(Math.floor(at)), received: us(received), theirs });
    known = Math.min(known, received);
  };

  /** The source time is that of the sample, or of the controller's scan that brought the value. */
  const ofSample = random.chance(0.5);
  /** A subscription from one instant to another, with terms of its own. */
  const subscribe = (from: number, to: number): void => {
    const publishing = grantedOf(random, asked.publishing);
    const sampling = signals.map(() => grantedOf(random, asked.sampling));
    const items = sampling.map((own, index) => ({ signal: index as SignalId, sampling: own, queue: 10 }));
    const begin = (): void =>
      tell({ kind: 'terms', source: 0, received: us(road.back(from)), publishing, items });
    events.push({ at: from, happen: begin });
    const last: (number | undefined)[] = signals.map(() => undefined);
    const queues: Item[][] = signals.map(() => []);
    sampling.forEach((own, index) => {
      const phase = random.between(0, own);
      // The first sample is taken when the item is made.
      for (let at = from; at < to; at = at === from ? from + phase : at + own)
        events.push({ at, happen: () => sample(index, at) });
    });
    const sample = (index: number, at: number): void => {
      const read = at - random.between(0, age);
      const value = valueAt(began[index]!, read);
      if (value === last[index]) return;
      last[index] = value;
      const changed = Math.max(began[index]![value]!, read - 5 * MS);
      const stamp = ofSample ? at : changed;
      queues[index]!.push({
        signal: index as SignalId,
        status: 0,
        value,
        sourceTime: instant(ZERO + clock.shown(stamp)),
        serverTime: instant(ZERO + clock.shown(at)),
      });
    };
    const shown: (number | undefined)[] = signals.map(() => undefined);
    const publish = (at: number): void => {
      const told = queues.flatMap((queue) => queue.splice(0));
      const received = us(road.back(at));
      if (told.length > 0) tell({ kind: 'items', source: 0, received, items: told });
      const fresh = new Set(told.map(({ signal }) => signal));
      for (const { signal, value } of told) shown[signal] = value ?? undefined;
      const spoken = Math.floor((ZERO + clock.shown(at)) / MS) * MS;
      const still = shown.flatMap((value, index): Item[] =>
        value === undefined || fresh.has(index as SignalId)
          ? []
          : [
              {
                signal: index as SignalId,
                status: 0,
                value,
                unchanged: true,
                ...((dates || told.length > 0) && { serverTime: instant(spoken) }),
              },
            ],
      );
      if (still.length > 0) tell({ kind: 'items', source: 0, received, items: still });
    };
    for (let at = from + random.between(0, publishing); at < to; at += publishing)
      events.push({ at, happen: () => publish(at) });
    events.push({
      at: to,
      happen: () => {
        const received = us(road.back(to));
        const gone = signals.map(
          ({ id }): Item => ({ signal: id, status: -1, value: null, why: 'interrupted' }),
        );
        tell({ kind: 'items', source: 0, received, items: gone });
      },
    });
  };

  if (asks) {
    const every = random.pick([S / 2, 2 * S, 5 * S]);
    for (let at = 0; at < length; at += every) events.push({ at, happen: () => askClock(at) });
  }
  const broken = random.chance(0.4) ? random.between(0.3, 0.7) * length : length;
  const parts =
    broken < length
      ? [
          [1, broken],
          [broken + 0.3 * S, length],
        ]
      : [[1, length]];
  // Subscriptions draw their samples as events; those of the second are drawn when it begins.
  for (const [from, to] of parts as [number, number][]) subscribe(from, to);
  events.sort((a, b) => a.at - b.at);
  for (const { happen } of events) happen();
  return {
    way,
    source,
    signals,
    // One connection: what the server says arrives in the order in which it is said.
    answers: answers.map(({ answer }) => answer).sort((a, b) => a.received - b.received),
    began: began.map((own) => own.map((at) => at + ZERO)),
  };
};
