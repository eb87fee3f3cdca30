import type { Book } from '../rulebook/index.ts';
import type { State } from './state.ts';

/** What the contradictions that are watched always remember. */
export interface Standing {
  /** Newest recorded change of a machine's settings, by machine. */
  readonly recordedAt: number[];
}

export const standingOf = (book: Book): Standing => ({
  recordedAt: book.machines.map(() => Number.NEGATIVE_INFINITY),
});

/** Somebody recorded a change at the machine. */
export const recorded = (standing: Standing, machine: number | undefined, at: number): void => {
  if (machine !== undefined) standing.recordedAt[machine] = at;
};

export const watchStanding = (_state: State, _touched: ReadonlySet<number>): void => {};
