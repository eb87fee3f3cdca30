import { signal } from '@preact/signals';
import type { BookNow, InterlockShown, SignalShown } from '../../api/index.ts';
import { ask } from './api.ts';

/** What the site is made of; read once, and again where levels may have moved. */
export const book = signal<BookNow | undefined>(undefined);

export const readBook = async (): Promise<void> => {
  book.value = await ask<BookNow>('/api/book');
};

export const signalNamed = (name: string): SignalShown | undefined =>
  book.value?.signals.find((one) => one.name === name);

export const interlockNamed = (name: string): InterlockShown | undefined =>
  book.value?.interlocks.find((one) => one.name === name);
