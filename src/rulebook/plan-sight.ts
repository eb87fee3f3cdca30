import { type Interval, SECOND, type SignalId } from '../measure/index.ts';
import type { Decoding, OpcUaSource, SignalDef, Source } from '../signal/index.ts';
import type { Book, Machine } from './types.ts';

/** How the readings of a signal stand in time. Seconds. */
export interface Sight {
  /** From one reading to the next, at worst; and at best, where a server samples more often than it publishes. */
  readonly every: number;
  readonly least: number;
  /** The same of a value that moves. */
  readonly look: number;
  /** Only changes are told: a value that moves slowly is heard of when it has moved by a step. */
  readonly changesOnly: boolean;
  /** A reading may be of an instant so long before it was taken, and so long after. */
  readonly early: number;
  readonly late: number;
  /** By so much the age may differ from one reading to the next. */
  readonly age: number;
}

/** What is known besides the book, once the plant is being read. */
export interface Known {
  /** By source: seconds from question to answer. */
  readonly answers?: readonly (number | undefined)[];
  /** By signal: the normal that its percentages refer to; else it is expected at the nameplate. */
  readonly normals?: Readonly<Record<SignalId, Interval>>;
  /** By signal: what a tag holds that levels refer to. */
  readonly tags?: Readonly<Record<SignalId, Interval>>;
}

/** The time within which a change of the signal is known, at worst. */
export const bracketOf = (sight: Sight): number => sight.every + sight.early + sight.late;

/** The same with the looks falling as well as they can. */
export const leastBracketOf = (sight: Sight): number => sight.least + sight.early + sight.late;

/** The time by which a reading of a moving value may lie outside a span that it must reach. */
export const lookOf = (sight: Sight): number => sight.look + sight.early + sight.late;

/** Publishing intervals after which a server that has nothing to tell says so, as the client asks for. */
const KEEP_ALIVE = 3;

/**
 * A server tells of a sample at the next publishing; what it has not changed is as it was one sampling interval before
 * its last word. Where no heartbeat makes it speak in every interval, that word may be a keep-alive. Its clock is taken
 * to be wrong by the same during a test.
 */
const opcUaSight = (source: OpcUaSource, age: number, lively: boolean): Sight => {
  const sampling = source.sampling / SECOND;
  const publishing = source.publishing / SECOND;
  const word = publishing * (lively ? 1 : KEEP_ALIVE);
  if (source.clockBound === undefined) {
    const early = publishing + sampling + age;
    return { every: word, least: publishing, look: publishing, changesOnly: true, early, late: 0, age };
  }
  const bound = source.clockBound / SECOND;
  const [early, late] = [bound + age, bound];
  return { every: sampling + word, least: sampling, look: sampling, changesOnly: true, early, late, age };
};

/** How far back a reading of pulses reaches beyond its age: to the first count of its gate, or two gates or periods. */
export const reachBack = (
  decoding: Decoding,
  poll: number,
  age: number,
  value: number | undefined,
): number => {
  if (decoding.as === 'pulse-count') {
    return poll * Math.ceil((decoding.gate / SECOND + age) / poll - 1e-9);
  }
  if (decoding.as === 'pulse-gate') return (2 * decoding.gate) / SECOND;
  if (decoding.as !== 'pulse-period' || value === undefined || value <= 0) return 0;
  return 2 * (decoding.unitsPerPulsePerSecond / value + decoding.tick / SECOND);
};

const directSight = (
  book: Book,
  signal: SignalDef,
  source: Source,
  machine: Machine | undefined,
  known: Known,
  value: number | undefined,
): Sight | undefined => {
  const age = signal.age / SECOND;
  switch (source.protocol) {
    case 'modbus': {
      const poll = source.windowPoll / SECOND;
      const early = age + reachBack(signal.decoding, poll, age, value);
      const late = known.answers?.[signal.source] ?? 0;
      return { every: poll, least: poll, look: poll, changesOnly: false, early, late, age };
    }
    case 'opc-ua': {
      const beats = book.signals.find(({ id }) => id === machine?.heartbeat);
      return opcUaSight(source, age, beats?.source === signal.source);
    }
    default:
      return undefined;
  }
};

/**
 * A signal that is worked out from others is known when all of them are; what the others were at its instant lies
 * between two looks at them. A rate reaches back by the time over which it is taken.
 */
const worst = (sights: readonly Sight[], more: number): Sight => {
  const most = (of: (sight: Sight) => number): number => Math.max(...sights.map(of));
  const look = most((one) => one.look);
  return {
    every: most((one) => one.every),
    least: most((one) => one.least),
    look,
    changesOnly: sights.some((one) => one.changesOnly),
    early: most((one) => one.early) + look + more,
    late: most((one) => one.late) + look,
    age: most((one) => one.age),
  };
};

/** Undefined where readings come from a file: how often it holds one is not known beforehand. */
export const sightOf = (
  book: Book,
  id: SignalId,
  machine: Machine | undefined,
  known: Known = {},
  value?: number,
): Sight | undefined => {
  const signal = book.signals.find((one) => one.id === id);
  if (signal === undefined) return undefined;
  if (signal.address.kind === 'derived') {
    const { from } = signal.address;
    const parts = from.of.map((part) => sightOf(book, part, machine, known));
    const seen = parts.filter((part) => part !== undefined);
    if (seen.length < parts.length || seen.length === 0) return undefined;
    return worst(seen, from.as === 'rate' ? from.over / SECOND : 0);
  }
  const source = book.sources[signal.source];
  return source && directSight(book, signal, source, machine, known, value);
};
