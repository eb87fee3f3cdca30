import type { Book } from '../rulebook/index.ts';

/** A list of small numbers without repeats, that is emptied and filled again for every instant without new memory. */
export interface Marked {
  readonly list: number[];
  add(one: number): void;
  has(one: number): boolean;
  clear(): void;
}

const marked = (size: number): Marked => {
  const list: number[] = [];
  const stamps = new Uint32Array(size);
  let stamp = 1;
  return {
    list,
    add(one) {
      if (stamps[one] === stamp) return;
      stamps[one] = stamp;
      list.push(one);
    },
    has: (one) => stamps[one] === stamp,
    clear() {
      list.length = 0;
      stamp += 1;
      if (stamp < 0xffff_ffff) return;
      stamps.fill(0);
      stamp = 1;
    },
  };
};

/** What one instant touches. */
export interface Turn {
  readonly signals: Marked;
  /** Interlocks whose cause is among the signals. */
  readonly caused: Marked;
  /** Interlocks that must look. */
  readonly concerned: Marked;
  readonly machines: Marked;
  /** Places in `scene.outputs` that show another state than at the last instant with a running trial. */
  readonly changed: Marked;
  /** When each signal came to the state that it shows, as far as an instant with a running trial has seen it. */
  readonly since: Float64Array;
}

export const newTurn = (book: Book, outputs: number): Turn => ({
  signals: marked(book.signals.length),
  caused: marked(book.interlocks.length),
  concerned: marked(book.interlocks.length),
  machines: marked(book.machines.length),
  changed: marked(outputs),
  since: new Float64Array(book.signals.length).fill(Number.NaN),
});
