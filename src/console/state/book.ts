import { computed, signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { BookNow, InterlockShown, SignalShown } from '../../api/index.ts';
import { ask } from './api.ts';

/** What the site is made of, with its levels and bypasses as they were when it was read. */
export const book = signal<BookNow | undefined>(undefined);

/** A normal may be learned, a set point moved, a bypass turned on: where they are shown, they are read so often. */
const AGAIN_MS = 5_000;

const read = async (): Promise<void> => {
  try {
    book.value = await ask<BookNow>('/api/book');
  } catch {
    // Where it cannot be read now, what is there stays.
  }
};

let reading: Promise<void> | undefined;

/** Reads it anew; whoever asks while it is being read waits for the same answer. */
export const readBook = (): Promise<void> => {
  reading ??= read().finally(() => {
    reading = undefined;
  });
  return reading;
};

/** The book, read again and again for as long as what asks for it is shown. */
export const useFreshBook = (): BookNow | undefined => {
  useEffect(() => {
    void readBook();
    const timer = setInterval(() => void readBook(), AGAIN_MS);
    return () => clearInterval(timer);
  }, []);
  return book.value;
};

const signals = computed(() => new Map(book.value?.signals.map((one) => [one.name, one])));
const interlocks = computed(() => new Map(book.value?.interlocks.map((one) => [one.name, one])));

export const signalNamed = (name: string): SignalShown | undefined => signals.value.get(name);
export const interlockNamed = (name: string): InterlockShown | undefined => interlocks.value.get(name);
