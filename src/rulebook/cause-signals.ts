import type { SignalId } from '../measure/index.ts';
import type { Book, Cause } from './types.ts';

/** Every signal that a cause is made of, the lead first. */
export const causeSignals = (cause: Cause): readonly SignalId[] =>
  cause.kind === 'group' ? [...new Set(cause.of.flatMap(causeSignals))] : [cause.signal];

/** The measured signals behind a signal: itself, or what it is worked out from. */
export const rootsOf = (book: Book, signal: SignalId): readonly SignalId[] => {
  const address = book.signals[signal]?.address;
  return address?.kind === 'derived' ? address.from.of.flatMap((input) => rootsOf(book, input)) : [signal];
};

/** Every measured signal that a cause rests on. */
export const causeRoots = (book: Book, cause: Cause): ReadonlySet<SignalId> =>
  new Set(causeSignals(cause).flatMap((signal) => rootsOf(book, signal)));
