import type { Table } from '../../signal/index.ts';
import type { Asker } from './asker.ts';

/** A run of addresses as they answered. */
export interface Window {
  readonly table: Table;
  readonly from: number;
  /** -1: the device refuses this address, or keeps silent on it. */
  readonly words: readonly number[];
  /** Questions that it took; with more than one, values of several words may be of several instants. */
  readonly questions: number;
}

export interface Wanted {
  readonly table: Table;
  readonly at: number;
  readonly count: number;
  readonly around: number;
}

/** The highest exception that speaks of the question itself: function, address, number of addresses. */
export const ILLEGAL = 3;
/** A block that is refused is asked in smaller parts, but never with more questions than this. */
const QUESTIONS = 40;

interface Reading extends Pick<Wanted, 'table'> {
  readonly asker: Asker;
  readonly known: Map<number, number>;
  questions: number;
}

/** Halves what is refused until single addresses are left. False once something else than a refusal came. */
const read = async (reading: Reading, from: number, count: number): Promise<boolean> => {
  if (reading.questions >= QUESTIONS) return false;
  reading.questions += 1;
  const told = await reading.asker.ask(reading.table, from, count);
  if ('words' in told) {
    told.words.forEach((word, index) => {
      reading.known.set(from + index, word);
    });
    return true;
  }
  if (!('refused' in told) || told.refused > ILLEGAL) return false;
  if (count === 1) return true;
  const half = Math.ceil(count / 2);
  return (await read(reading, from, half)) && read(reading, from + half, count - half);
};

/** The addresses asked for and their neighbours, as far as they answer. `first` is what `at` has answered already. */
export const readWindow = async (
  asker: Asker,
  { table, at, count, around }: Wanted,
  first: readonly number[],
): Promise<Window> => {
  const from = Math.max(0, at - around);
  const to = Math.min(0xffff, at + count - 1 + around);
  const reading: Reading = { asker, table, known: new Map([[at, first[0] ?? 0]]), questions: 0 };
  // A device that keeps silent on addresses that it has not is left in peace after the second try.
  if (!(await read(reading, from, to - from + 1)) && count > 1) await read(reading, at, count);
  const low = Math.min(at, ...reading.known.keys());
  const high = Math.max(at, ...reading.known.keys());
  const words = Array.from({ length: high - low + 1 }, (_, index) => reading.known.get(low + index) ?? -1);
  return { table, from: low, words, questions: reading.questions };
};
