import type { SignalId } from '../measure/index.ts';
import type { Book, Interlock } from './types.ts';

/** What must be read, and which of it should travel in one answer. */
export interface Needs {
  readonly signals: readonly SignalId[];
  /** By interlock: cause, effects, arming, and what tells this cause from another. */
  readonly together: readonly (readonly SignalId[])[];
}

const ordered = (ids: Iterable<SignalId>): readonly SignalId[] => [...new Set(ids)].sort((a, b) => a - b);

const groupOf = (book: Book, interlock: Interlock): readonly SignalId[] => {
  const machine = book.machines.find(({ index }) => index === interlock.machine);
  const normal = machine?.normals.find(({ signal }) => signal === interlock.cause.signal);
  const watched = [
    ...(machine?.tripped ?? []),
    ...(machine?.running ?? []),
    ...(machine?.stops ?? []),
    ...(machine?.resets ?? []),
    ...(machine?.starts ?? []),
    ...(machine?.bypasses ?? []),
    ...(machine?.forces ?? []),
    ...interlock.armed.when,
  ];
  return ordered([
    interlock.cause.signal,
    ...interlock.effects.map(({ signal }) => signal),
    ...watched.map(({ signal }) => signal),
    ...(normal?.from.kind === 'tag' ? [normal.from.signal] : []),
    ...(normal?.against ?? []).map(({ signal }) => signal),
  ]);
};

/** Wishes for the read plan; which of them fit into one request is for the room that asks. */
export const needs = (book: Book): Needs => ({
  signals: ordered(book.signals.map(({ id }) => id)),
  together: book.interlocks.map((interlock) => groupOf(book, interlock)),
});
