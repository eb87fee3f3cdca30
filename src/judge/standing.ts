import type { Interval, Reason } from '../measure/index.ts';
import type { Book, InterlockId } from '../rulebook/index.ts';
import { withOneEmpty } from './watchers.ts';

/** What the contradictions remember, which are watched always, window or not. */
export interface Standing {
  /** Newest recorded change of a machine's settings, by machine. */
  readonly recordedAt: number[];
  /** Machines that a signal concerns, by signal. */
  readonly machines: readonly (readonly number[])[];
  /** What stands now, so that each is told once while it lasts. */
  readonly active: Set<string>;
  /** Settings as they were before a restart, by signal, up to the first reading behind it. */
  readonly settings: Map<number, Interval>;
}

export const standingOf = (book: Book): Standing => {
  const machines = book.signals.map((): number[] => []);
  for (const machine of book.machines) {
    const conditions = [
      ...machine.tripped,
      ...machine.running,
      ...machine.bypasses,
      ...machine.resets,
      ...machine.starts,
      ...(machine.silences ?? []),
      ...(machine.feedbacks ?? []),
    ];
    const signals = new Set<number>([
      ...conditions.map(({ signal }) => signal),
      ...machine.outputs,
      ...(machine.motions ?? []),
      ...(machine.constants ?? []),
    ]);
    for (const signal of signals) machines[signal]?.push(machine.index);
  }
  return {
    recordedAt: book.machines.map(() => Number.NEGATIVE_INFINITY),
    machines: withOneEmpty(machines),
    active: new Set(),
    settings: new Map(),
  };
};

/** Somebody recorded a change at the machine. */
export const recorded = (standing: Standing, machine: number | undefined, at: number): void => {
  if (machine !== undefined) standing.recordedAt[machine] = at;
};

/** A contradiction as one of the watchers finds it. `key` tells one from another while it lasts. */
export interface Contradiction {
  readonly key: string;
  /** It stands now. */
  readonly holds: boolean;
  readonly machine: number;
  readonly interlock?: InterlockId;
  readonly dangerous: boolean;
  readonly reason: Reason;
}
