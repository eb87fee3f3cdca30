import type { Entry } from '../types.ts';

/** Names behind the numbers in findings and marks: those of the book that an entry's window was judged by. */
export interface Names {
  /** To be given every `book` and `window-opened` entry, in their order. */
  take(entry: Entry): void;
  interlock(entry: Entry, id: unknown): string;
  machine(entry: Entry, index: unknown): string;
  /** Of an interlock of the newest book; '' where there is none of that name. */
  machineOf(interlock: string): string;
  /** Interlocks and machines of the newest book. */
  known(): readonly string[];
}

interface Book {
  readonly interlocks: readonly { readonly name: string; readonly machine: string }[];
  readonly machines: readonly string[];
}

const listOf = (value: unknown): readonly Record<string, unknown>[] =>
  Array.isArray(value) ? (value as Record<string, unknown>[]) : [];

const bookOf = ({ body }: Entry): Book => {
  const book = (body['book'] ?? {}) as Record<string, unknown>;
  const machines = listOf(book['machines']).map(({ name }) => String(name));
  const interlocks = listOf(book['interlocks']).map(({ name, machine }) => ({
    name: String(name),
    machine: machines[Number(machine)] ?? '',
  }));
  return { interlocks, machines };
};

export const createNames = (): Names => {
  const books = new Map<string, Book>();
  const windows = new Map<string, Book>();
  let newest: Book = { interlocks: [], machines: [] };
  const of = ({ subject }: Entry): Book => windows.get(subject) ?? newest;
  return {
    take(entry) {
      if (entry.kind === 'book') {
        newest = bookOf(entry);
        books.set(String(entry.body['hash']), newest);
      }
      const book = entry.kind === 'window-opened' ? books.get(String(entry.body['book'])) : undefined;
      if (book !== undefined) windows.set(entry.subject, book);
    },
    interlock: (entry, id) => of(entry).interlocks[Number(id)]?.name ?? '',
    machine: (entry, index) => of(entry).machines[Number(index)] ?? '',
    machineOf: (interlock) => newest.interlocks.find(({ name }) => name === interlock)?.machine ?? '',
    known: () => [...newest.interlocks.map(({ name }) => name), ...newest.machines],
  };
};
