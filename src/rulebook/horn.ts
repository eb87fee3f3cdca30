import type { SignalId } from '../measure/index.ts';
import type { Book } from './types.ts';

/** The signal sounds the horn of some machine. That it was heard, only people can say. */
export const isHorn = (book: Book, signal: SignalId): boolean =>
  book.machines.some(({ roles }) => roles['horn'] === signal);
