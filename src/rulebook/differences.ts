import type { SignalDef } from '../signal/index.ts';
import type { Book } from './types.ts';

/** A difference of temperatures has no zero of a scale: 2 degF of it are 1.1 degC. */
export const tellsDifference = (book: Pick<Book, 'signals'>, { address }: SignalDef): boolean => {
  if (address.kind !== 'derived') return false;
  const { as, of } = address.from;
  if (as === 'difference' || as === 'spread' || as === 'rate') return true;
  if (as === 'ratio' || as === 'slip') return false;
  return of.every((id) => book.signals[id] !== undefined && tellsDifference(book, book.signals[id]));
};
