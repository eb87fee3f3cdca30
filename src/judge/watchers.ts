import { type Book, causeSignals } from '../rulebook/index.ts';
import type { NormalState } from './normals.ts';
import type { Output } from './scene.ts';

/** Whom a signal concerns, by signal: cost must not grow with interlocks that do not watch it. */
export interface Watchers {
  /** Interlocks whose cause it is: they wait for it. */
  readonly causes: readonly (readonly number[])[];
  /** Interlocks whose trial it can change. */
  readonly trials: readonly (readonly number[])[];
  /** Places in `scene.outputs`. */
  readonly outputs: readonly (readonly number[])[];
  readonly heartbeats: readonly (readonly number[])[];
  /** Normals that are learned from it. */
  readonly normals: readonly (readonly NormalState[])[];
}

/** Nearly every list is empty, and each is asked for with every reading: they are one. */
const NONE: readonly never[] = [];

/** `lists` with one and the same list in place of all that are empty. */
export const withOneEmpty = <T>(lists: readonly (readonly T[])[]): readonly (readonly T[])[] =>
  lists.map((list) => (list.length === 0 ? NONE : list));

export const watchersOf = (
  book: Book,
  normals: readonly NormalState[],
  outputs: readonly Output[],
): Watchers => {
  const causes: number[][] = book.signals.map(() => []);
  const trials: number[][] = book.signals.map(() => []);
  const heartbeats: number[][] = book.signals.map(() => []);
  const places: number[][] = book.signals.map(() => []);
  outputs.forEach(({ signal }, place) => {
    places[signal]?.push(place);
  });
  for (const interlock of book.interlocks) {
    const machine = book.machines[interlock.machine];
    for (const signal of causeSignals(interlock.cause)) causes[signal]?.push(interlock.id);
    const signals = new Set<number>([
      ...causeSignals(interlock.cause),
      ...interlock.effects.map((effect) => effect.signal),
      ...interlock.armed.when.map((one) => one.signal),
      ...[
        machine?.stops,
        machine?.resets,
        machine?.starts,
        machine?.bypasses,
        machine?.forces,
        machine?.tripped,
      ]
        .flatMap((conditions) => conditions ?? [])
        .map((one) => one.signal),
    ]);
    for (const signal of signals) trials[signal]?.push(interlock.id);
  }
  for (const machine of book.machines) {
    if (machine.heartbeat !== undefined) heartbeats[machine.heartbeat]?.push(machine.index);
  }
  const normalsOf: NormalState[][] = book.signals.map(() => []);
  for (const one of normals) if (one.normal.from.kind === 'learned') normalsOf[one.normal.signal]?.push(one);
  return {
    causes: withOneEmpty(causes),
    trials: withOneEmpty(trials),
    heartbeats: withOneEmpty(heartbeats),
    outputs: withOneEmpty(places),
    normals: withOneEmpty(normalsOf),
  };
};
