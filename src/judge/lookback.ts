import { type Book, causeSignals, tagsOf } from '../rulebook/index.ts';

/**
 * Signals whose history somebody looks back at: causes, what something is worked out from, normals and what they rest
 * on, settings. Of the others the newest value does. Who asks for the history of one that is not here is told so.
 */
export const keepsRows = (book: Book): ReadonlySet<number> => {
  const kept = new Set<number>();
  const keep = (signals: readonly number[]): void => {
    for (const signal of signals) kept.add(signal);
  };
  for (const interlock of book.interlocks) {
    keep([interlock.cause.signal]);
    keep(causeSignals(interlock.cause));
    keep(tagsOf(interlock));
  }
  for (const { normals, constants = [] } of book.machines) {
    keep(constants);
    for (const { signal, from } of normals) keep(from.kind === 'tag' ? [signal, from.signal] : [signal]);
  }
  for (const { address } of book.signals) if (address.kind === 'derived') keep(address.from.of);
  return kept;
};
