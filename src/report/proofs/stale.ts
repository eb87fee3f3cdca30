import type { Phrase, Reason } from '../../measure/index.ts';
import type { Book, Interlock } from '../../rulebook/index.ts';
import {
  machinesOfInterlock,
  machinesOfRevision,
  type RevisionChange,
  revisionChanges,
} from './controllers.ts';
import type { History, ScopePast } from './history-types.ts';
import type { Evidence } from './past-evidence.ts';
import { ruleDifferences } from './rule-difference.ts';

/** What may have made a proof stale, worked out once for a book. */
export interface Changes {
  readonly history: History;
  readonly book: Book;
  readonly changes: readonly { readonly change: RevisionChange; readonly machines: ReadonlySet<string> }[];
  /** For each scope that was entered for a change of revision: that change, and whether it was its first scope. */
  readonly bound: ReadonlyMap<ScopePast, { readonly change: RevisionChange; readonly first: boolean }>;
  /** Why each pass is stale, once it was asked for. */
  readonly stale: Map<Evidence, readonly Phrase[]>;
}

/** A scope is for the revision that it names, where it was entered after the change before and before the change behind. */
const isFor = (scope: ScopePast, change: RevisionChange): boolean =>
  scope.revision === change.text &&
  scope.machines.includes(change.machine) &&
  scope.entry > change.previous &&
  scope.entry < change.next;

export const changesOf = (history: History, book: Book): Changes => {
  const changes = revisionChanges(history, book).map((change) => ({
    change,
    machines: machinesOfRevision(book, change),
  }));
  const bound = new Map<ScopePast, { change: RevisionChange; first: boolean }>();
  const taken = new Set<number>();
  for (const scope of history.scopes) {
    const found = changes.findLast(({ change }) => isFor(scope, change))?.change;
    if (found === undefined) continue;
    bound.set(scope, { change: found, first: !taken.has(found.entry) });
    taken.add(found.entry);
  }
  return { history, book, changes, bound, stale: new Map() };
};

const endEntry = ({ window }: Evidence): number => window.ended ?? window.entry;

/**
 * The scopes of the log that a change of revision is settled by, for an interlock: none of them lists it. A scope holds
 * for the machines that it names.
 */
const settledBy = (known: Changes, change: RevisionChange, interlock: string, own: ReadonlySet<string>) => {
  const scopes = known.history.scopes.filter(
    (scope) => isFor(scope, change) && scope.machines.some((machine) => own.has(machine)),
  );
  const listing = scopes.findLast((scope) => Object.hasOwn(scope.prove, interlock));
  return { settled: scopes.length > 0 && listing === undefined, listing };
};

const revisionReasons = (
  known: Changes,
  pass: Evidence,
  interlock: Interlock,
  own: ReadonlySet<string>,
): readonly Reason[] =>
  known.changes.flatMap(({ change, machines }): Reason[] => {
    if (change.entry <= endEntry(pass) || ![...machines].some((one) => own.has(one))) return [];
    const { settled, listing } = settledBy(known, change, interlock.name, own);
    if (settled) return [];
    const { machine, was, text } = change;
    const why = listing?.prove[interlock.name] ?? '';
    return [{ code: 'stale-revision', params: { machine, from: was, to: text, at: change.at, why } }];
  });

/** A scope asks for a proof that was made after it, or, for the first scope of a change, after that change. */
const scopeReasons = (known: Changes, pass: Evidence, interlock: Interlock): readonly Reason[] =>
  known.history.scopes.flatMap((scope): Reason[] => {
    const why = scope.prove[interlock.name];
    if (why === undefined || pass.window.entry > scope.entry) return [];
    const bound = known.bound.get(scope);
    if (bound?.first === true && endEntry(pass) > bound.change.entry) return [];
    // The change itself tells it already.
    if (bound !== undefined && endEntry(pass) < bound.change.entry) return [];
    return [{ code: 'stale-scope', params: { change: scope.change, why, at: scope.at, by: scope.by } }];
  });

const ruleReasons = ({ history, book }: Changes, { window }: Evidence, interlock: Interlock): Phrase[] => {
  const then = history.books.get(window.bookHash);
  if (then === undefined) return [{ code: 'stale-no-book', params: { window: window.id } }];
  return then === book
    ? []
    : ruleDifferences(then, book, interlock.name).map((params) => ({
        code: 'stale-rule',
        params: { ...params },
      }));
};

/** Why a proof holds no longer: the program, the rule, or a change that somebody entered. None: it holds. */
export const staleReasons = (known: Changes, pass: Evidence, interlock: Interlock): readonly Phrase[] => {
  const before = known.stale.get(pass);
  if (before !== undefined) return before;
  const own = machinesOfInterlock(known.book, interlock);
  const reasons = [
    ...revisionReasons(known, pass, interlock, own),
    ...scopeReasons(known, pass, interlock),
    ...ruleReasons(known, pass, interlock),
  ];
  known.stale.set(pass, reasons);
  return reasons;
};
