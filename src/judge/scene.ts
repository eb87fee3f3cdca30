import type { Interval, SignalId } from '../measure/index.ts';
import {
  type Book,
  type Cause,
  type Interlock,
  type Machine,
  type References,
  tagsOf,
} from '../rulebook/index.ts';
import { type NormalState, referencesOf } from './normals.ts';
import type { Position } from './position.ts';
import { type Track, valueNow } from './track.ts';

/** An output of a machine. */
export interface Output {
  readonly machine: Machine;
  readonly signal: SignalId;
}

/** All that the judge knows of the plant at an instant, whichever interlock asks. */
export interface Scene {
  readonly book: Book;
  readonly tracks: readonly Track[];
  /** Of all machines, in the order of the book; a signal may be here for several. */
  readonly outputs: readonly Output[];
  readonly normalAt: (machine: number, signal: SignalId) => NormalState | undefined;
  /** Of the signal that an interlock's cause is about. */
  readonly normalOf: (interlock: Interlock) => NormalState | undefined;
  /** Where the cause of an interlock is now. */
  readonly positionOf: (interlock: Interlock) => Position | undefined;
  /** Latest instant at which the cause of an interlock may have been there. */
  readonly possibleUntil: (interlock: Interlock) => number;
  /** Interlocks that list this signal going to this state among their effects. */
  readonly listing: (signal: number, state: number) => readonly Interlock[];
  /** Last change of each machine's heartbeat (latest instant), by machine. */
  readonly beats: readonly number[];
}

export const outputsOf = (book: Book): readonly Output[] =>
  book.machines.flatMap((machine) => machine.outputs.map((signal) => ({ machine, signal })));

/** Sorted once: with a thousand interlocks each output would ask each of them. */
export const listingOf = (book: Book): Scene['listing'] => {
  const found = new Map<string, Interlock[]>();
  for (const interlock of book.interlocks) {
    const keys = new Set<string>();
    for (const { signal, becomes } of interlock.effects)
      if (becomes.kind === 'state') keys.add(`${signal} ${becomes.state}`);
    for (const key of keys) {
      const own = found.get(key);
      if (own === undefined) found.set(key, [interlock]);
      else own.push(interlock);
    }
  }
  return (signal, state) => found.get(`${signal} ${state}`) ?? [];
};

export const nameOf = (scene: Scene, signal: number): string =>
  scene.book.signals[signal]?.name ?? `#${signal}`;

const NOTHING: References = {};

/** Signals of the members of a group that are levels: each has its own normal. */
const levelSignals = (cause: Cause): readonly SignalId[] => {
  if (cause.kind === 'group') return [...new Set(cause.of.flatMap(levelSignals))];
  return cause.kind === 'level' || cause.kind === 'band' ? [cause.signal] : [];
};

const sameAll = <T>(a: readonly T[], b: readonly T[]): boolean =>
  a.length === b.length && a.every((one, index) => one === b[index]);

/** Finds what the levels of an interlock refer to; gives the same object as long as nothing changes. */
export const referencesFor = (
  interlock: Interlock,
  normalOf: (signal: SignalId) => NormalState | undefined,
): ((tracks: readonly Track[]) => References) => {
  const { cause } = interlock;
  const tags = tagsOf(interlock);
  const normal = normalOf(cause.signal);
  const members = cause.kind === 'group' ? levelSignals(cause) : [];
  const states = members.map(normalOf);
  const refer = (state: NormalState | undefined, tracks: readonly Track[]): References =>
    state === undefined ? NOTHING : referencesOf(state, tracks);
  if (tags.length === 0 && members.length === 0) return (tracks) => refer(normal, tracks);
  let seen: readonly unknown[] = [];
  let last: References = NOTHING;
  return (tracks) => {
    const base = refer(normal, tracks);
    const own = states.map((state) => refer(state, tracks));
    const rows = tags.map((tag) => valueNow(tracks[tag]));
    const now = [base, ...own, ...rows.flatMap((row) => [row?.low, row?.high])];
    if (sameAll(now, seen)) return last;
    seen = now;
    const values: Record<SignalId, Interval> = {};
    tags.forEach((tag, index) => {
      const row = rows[index];
      if (row !== undefined) values[tag] = { low: row.low, high: row.high };
    });
    const by: Record<SignalId, References> = {};
    members.forEach((signal, index) => {
      by[signal] = { ...own[index], tags: values };
    });
    last = { ...base, tags: values, members: by };
    return last;
  };
};
