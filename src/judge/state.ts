import type { Reason, SignalId } from '../measure/index.ts';
import { type Book, causeSignals, type Interlock, type References } from '../rulebook/index.ts';
import { type Derived, derivedOf, reachOf } from './derived.ts';
import { type Follower, newFollower } from './follow.ts';
import { keepsRows } from './lookback.ts';
import { type NormalState, newNormal } from './normals.ts';
import { listingOf, outputsOf, referencesFor, type Scene } from './scene.ts';
import { type Standing, standingOf } from './standing.ts';
import { newTrack, type Track } from './track.ts';
import type { EarlierNormal, Trial } from './trial.ts';
import { newTurn, type Turn } from './turn.ts';
import type { Aspect, Finding, Method } from './types.ts';
import { type Watchers, watchersOf } from './watchers.ts';
import type { Ended } from './window.ts';

/** One interlock that is watched: under test in a window, or for demands outside of one. */
export interface Case {
  readonly interlock: Interlock;
  readonly signals: readonly SignalId[];
  readonly unit: string;
  /** It was named when the window was opened; else what it does is a demand. */
  readonly tested: boolean;
  /** The window records a demand: verdicts are told of whatever acted. */
  readonly recorded: boolean;
  readonly method: Method;
  readonly follower: Follower;
  /** Latest instant at which the cause may have been there. */
  possibleUntil: number;
  readonly referencesNow: (tracks: readonly Track[]) => References;
  /** Since when the cause has certainly been clear; earliest and latest instants of the newest clear reading. */
  clearSince: number | undefined;
  clearEarliest: number;
  clearLatest: number;
  /** Lowest value (turned) of the baseline, taken when the interlock became ready. */
  quietBelow: number;
  ready: boolean;
  readySince: number;
  waits: readonly Reason[];
  told: string;
  /** When what it waits for was last put into words. */
  saidAt: number;
  trial: Trial | undefined;
  ended: Ended[];
  trials: number;
  /** The last trial is over, and its machine has not been started again. */
  aftermath: Trial | undefined;
  adjustments: number;
  excursion: boolean;
  extra: Aspect[];
}

/** Everything the judge remembers. Changed by `step` alone. */
export interface State {
  readonly scene: Scene & { readonly beats: number[]; readonly tracks: Track[] };
  readonly watchers: Watchers;
  readonly normals: readonly NormalState[];
  readonly derived: Derived;
  readonly standing: Standing;
  /** By interlock. */
  readonly cases: Case[];
  /** Interlocks with a running trial. */
  readonly running: Set<number>;
  /** Normals of earlier windows, by interlock. */
  readonly earlier: Map<number, EarlierNormal>;
  window: string;
  doubts: Reason[];
  revisions: Map<number, string>;
  /** Readings of one instant are taken together, so that their order inside an answer means nothing. */
  readonly turn: Turn;
  latest: number;
  now: number;
  findings: Finding[];
}

export const newCase = (
  book: Book,
  interlock: Interlock,
  normalAt: (signal: SignalId) => NormalState | undefined,
  stimulus: Pick<Case, 'tested' | 'recorded' | 'method'>,
): Case => ({
  interlock,
  signals: causeSignals(interlock.cause),
  unit: book.signals[interlock.cause.signal]?.unit ?? '',
  ...stimulus,
  follower: newFollower(interlock.cause),
  referencesNow: referencesFor(interlock, normalAt),
  possibleUntil: Number.NEGATIVE_INFINITY,
  clearSince: undefined,
  clearEarliest: Number.NEGATIVE_INFINITY,
  clearLatest: Number.NEGATIVE_INFINITY,
  quietBelow: Number.POSITIVE_INFINITY,
  ready: false,
  readySince: Number.NEGATIVE_INFINITY,
  waits: [
    {
      code: 'no-reading',
      params: { signal: book.signals[interlock.cause.signal]?.name ?? '', absence: 'not-polled' },
    },
  ],
  told: '-',
  saidAt: Number.NEGATIVE_INFINITY,
  trial: undefined,
  aftermath: undefined,
  ended: [],
  trials: 0,
  adjustments: 0,
  excursion: false,
  extra: [],
});

export const UNTESTED = { tested: false, recorded: false, method: 'unstated' } as const;

/** Nothing is known of any signal. */
export const newTracks = (book: Book): Track[] => {
  const reach = reachOf(book);
  const kept = keepsRows(book);
  return book.signals.map((def) => newTrack(def, kept.has(def.id), reach.get(def.id)));
};

/** A judge that has seen nothing: every interlock is watched for demands. */
export const start = (book: Book): State => {
  const normals = book.machines.flatMap((machine) =>
    machine.normals.map((normal) => newNormal(normal, machine)),
  );
  const byKey = new Map(normals.map((one) => [`${one.machine.index} ${one.normal.signal}`, one]));
  const normalAt = (machine: number, signal: SignalId): NormalState | undefined =>
    byKey.get(`${machine} ${signal}`);
  const tracks = newTracks(book);
  const outputs = outputsOf(book);
  const cases = book.interlocks.map((interlock) =>
    newCase(book, interlock, (signal) => normalAt(interlock.machine, signal), UNTESTED),
  );
  return {
    scene: {
      book,
      tracks,
      outputs,
      normalAt,
      normalOf: ({ machine, cause }) => normalAt(machine, cause.signal),
      positionOf: (interlock) => cases[interlock.id]?.follower.position,
      possibleUntil: (interlock) => cases[interlock.id]?.possibleUntil ?? Number.POSITIVE_INFINITY,
      listing: listingOf(book),
      beats: book.machines.map(() => Number.NEGATIVE_INFINITY),
    },
    watchers: watchersOf(book, normals, outputs),
    normals,
    derived: derivedOf(book),
    standing: standingOf(book),
    cases,
    running: new Set(),
    earlier: new Map(),
    window: '',
    doubts: [],
    revisions: new Map(),
    turn: newTurn(book, outputs.length),
    latest: Number.NEGATIVE_INFINITY,
    now: Number.NEGATIVE_INFINITY,
    findings: [],
  };
};
