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

/** Texts of one content: blanks at their ends say nothing, whether they were typed or stood in registers. */
const isSame = (one: string, other: string): boolean => one.trim() === other.trim();

/**
 * Each statement that is a change, in their order: it differs from the last one for the same machine, wherever either comes
 * from. What somebody types for a machine without a tag of its own is none where a tag of the same controller changed to it
 * since: that change bears on the machine already.
 */
export const revisionChanges = (history: History, book: Book): readonly RevisionChange[] => {
  const last = new Map<string, string>();
  /** By machine: what tags of others on its controllers changed to since it was last stated itself, by the machine of the tag. */
  const told = new Map<string, Map<string, string>>();
  const bear = (one: RevisionPast): void => {
    for (const machine of machinesOfRevision(book, one)) {
      const own = told.get(machine) ?? new Map<string, string>();
      told.set(machine, own.set(one.machine, one.text));
    }
  };
  const repeats = ({ machine, text, quality }: RevisionPast): boolean =>
    quality === 'typed' && [...(told.get(machine)?.values() ?? [])].some((tag) => isSame(tag, text));
  const changes: { one: RevisionPast; was: string }[] = [];
  for (const one of history.revisions) {
    const was = last.get(one.machine);
    const changed = was !== undefined && !isSame(was, one.text) && !repeats(one);
    if (changed) changes.push({ one, was });
    if (changed && one.quality === 'tag') bear(one);
    last.set(one.machine, one.text);
    told.delete(one.machine);
  }
  return changes.map(({ one, was }, index): RevisionChange => {
    const same = (other: { one: RevisionPast }): boolean => other.one.machine === one.machine;
    const previous = changes.slice(0, index).findLast(same)?.one.entry ?? -1;
    const next = changes.slice(index + 1).find(same)?.one.entry ?? Number.POSITIVE_INFINITY;
    return { ...one, was, previous, next };
  });
};

/** Machines whose controllers an interlock runs through: its own, and those of its signals. */
export const machinesOfInterlock = (book: Book, interlock: Interlock): ReadonlySet<string> => {
  const signals = signalsOf(book, interlock);
  const owners = book.machines.filter((machine) =>
    Object.values(machine.roles).some((signal) => signals.has(signal)),
  );
  return new Set([book.machines[interlock.machine]?.name ?? '', ...owners.map(({ name }) => name)]);
};
