import type { SignalId } from '../../measure/index.ts';
import type { Book, Interlock, Machine } from '../../rulebook/index.ts';
import type { History, RevisionPast } from './history-types.ts';
import { signalsOf } from './rule-difference.ts';

/** A controller was seen with another revision than before. */
export interface RevisionChange extends RevisionPast {
  readonly was: string;
  /** Entries of the changes of the same machine before and after this one. */
  readonly previous: number;
  readonly next: number;
}

/** Each statement that differs from the last one for the same machine, in their order. */
export const revisionChanges = (history: History): readonly RevisionChange[] => {
  const last = new Map<string, string>();
  const changes: { one: RevisionPast; was: string }[] = [];
  for (const one of history.revisions) {
    const was = last.get(one.machine);
    if (was !== undefined && was !== one.text) changes.push({ one, was });
    last.set(one.machine, one.text);
  }
  return changes.map(({ one, was }, index): RevisionChange => {
    const same = (other: { one: RevisionPast }): boolean => other.one.machine === one.machine;
    const previous = changes.slice(0, index).findLast(same)?.one.entry ?? -1;
    const next = changes.slice(index + 1).find(same)?.one.entry ?? Number.POSITIVE_INFINITY;
    return { ...one, was, previous, next };
  });
};

const sourceOf = (book: Book, signal: SignalId | undefined): readonly number[] => {
  const found = signal === undefined ? undefined : book.signals[signal];
  return found === undefined || found.source < 0 ? [] : [found.source];
};

const sourcesOf = (book: Book, machine: Machine): readonly number[] => [
  ...new Set(Object.values(machine.roles).flatMap((signal) => sourceOf(book, signal))),
];

/**
 * Machines on whose controller a statement of the revision of one of them bears: itself, and those without a revision of
 * their own that are read from the same source.
 */
export const machinesOfRevision = (
  book: Book,
  { machine, quality }: Pick<RevisionPast, 'machine' | 'quality'>,
): ReadonlySet<string> => {
  const stated = book.machines.find(({ name }) => name === machine);
  if (stated === undefined) return new Set([machine]);
  const at = new Set(quality === 'tag' ? sourceOf(book, stated.revision) : sourcesOf(book, stated));
  const others = book.machines.filter(
    (one) => one.revision === undefined && sourcesOf(book, one).some((source) => at.has(source)),
  );
  return new Set([machine, ...others.map(({ name }) => name)]);
};

/** Machines whose controllers an interlock runs through: its own, and those of its signals. */
export const machinesOfInterlock = (book: Book, interlock: Interlock): ReadonlySet<string> => {
  const signals = signalsOf(book, interlock);
  const owners = book.machines.filter((machine) =>
    Object.values(machine.roles).some((signal) => signals.has(signal)),
  );
  return new Set([book.machines[interlock.machine]?.name ?? '', ...owners.map(({ name }) => name)]);
};
