import type { SignalId } from '../measure/index.ts';
import { type Plan, planReads } from '../signal/index.ts';
import { causeSignals, rootsOf } from './cause-signals.ts';
import { tagsOf } from './level.ts';
import type { Book, Interlock, Machine } from './types.ts';

/** What must be read, and which of it should travel in one answer. */
export interface Needs {
  readonly signals: readonly SignalId[];
  /** By interlock: cause, effects, arming, and what tells this cause from another. */
  readonly together: readonly (readonly SignalId[])[];
  /** What neither an interlock nor a contradiction looks at in time: read seldom. */
  readonly slow: ReadonlySet<SignalId>;
}

const ordered = (ids: Iterable<SignalId>): readonly SignalId[] => [...new Set(ids)].sort((a, b) => a - b);

const groupOf = (book: Book, interlock: Interlock): readonly SignalId[] => {
  const machine = book.machines.find(({ index }) => index === interlock.machine);
  const causes = causeSignals(interlock.cause);
  const normals = (machine?.normals ?? []).filter(({ signal }) => causes.includes(signal));
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
  const all = [
    ...causes,
    ...tagsOf(interlock),
    ...interlock.effects.map(({ signal }) => signal),
    ...watched.map(({ signal }) => signal),
    ...normals.flatMap(({ from, against }) => [
      ...(from.kind === 'tag' ? [from.signal] : []),
      ...(against ?? []).map(({ signal }) => signal),
    ]),
  ];
  return ordered(all.flatMap((id) => rootsOf(book, id)));
};

/** What contradictions are found in, window or not. */
const watchedOf = (machine: Machine): readonly SignalId[] => [
  ...machine.outputs,
  ...(machine.motions ?? []),
  ...(machine.feedbacks ?? []).map(({ signal }) => signal),
  ...(machine.silences ?? []).map(({ signal }) => signal),
  ...(machine.mirrors ?? []).flatMap(({ raw, shown }) => [raw, shown]),
];

/** Wishes for the read plan; which of them fit into one request is for the room that asks. */
export const needs = (book: Book): Needs => {
  const together = book.interlocks.map((interlock) => groupOf(book, interlock));
  const watched = new Set([
    ...together.flat(),
    ...book.machines.flatMap(watchedOf).flatMap((id) => rootsOf(book, id)),
  ]);
  const all = ordered(book.signals.map(({ id }) => id));
  return { signals: all, together, slow: new Set(all.filter((id) => !watched.has(id))) };
};

/** What the sources of a book are asked. */
export const readPlan = (book: Book, { together, slow }: Needs = needs(book)): Plan =>
  planReads(book.signals, book.sources, together, slow);

/** Names of the interlocks that need any of the signals. */
export const interlocksNeeding = (
  { interlocks }: Book,
  { together }: Needs,
  signals: ReadonlySet<SignalId>,
): readonly string[] =>
  interlocks.filter((_, index) => together[index]?.some((id) => signals.has(id))).map(({ name }) => name);
