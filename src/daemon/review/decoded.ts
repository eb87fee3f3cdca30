import type { Mark } from '../../judge/index.ts';
import { type Filling, type Instant, newReadings, parseUtc } from '../../measure/index.ts';
import { decodeAnswers, type Entry } from '../../record/index.ts';
import { type Book, readPlan } from '../../rulebook/index.ts';
import { createDecoder, type Decoder } from '../../signal/index.ts';
import { readAgain, storedWindow } from '../replay.ts';
import { type Columns, createColumns } from './columns.ts';
import type { LogIndex } from './log-index.ts';

/** A window's readings, as they were read. */
export interface Decoded {
  readonly book: Book;
  /** When it was opened: the zero of its seconds. */
  readonly zero: Instant;
  readonly columns: Columns;
  /** Of what is worked out from other signals; made when somebody asks. */
  derived(): Columns;
}

/** Keeps decoded windows, so many bytes of them; an open one is read on where it was left. */
export interface DecodedWindows {
  get(id: string): Decoded | undefined;
}

const MOST_BYTES = 256_000_000;

interface Kept {
  readonly book: Book;
  readonly zero: Instant;
  readonly columns: Columns;
  readonly decoder: Decoder;
  /** Number behind the last entry that was read. */
  next: number;
  derived: Columns | undefined;
}

const zeroOf = (own: readonly Entry[]): Instant => {
  const opening = own
    .map(({ kind, body }) => (kind === 'mark' ? (body['mark'] as unknown as Mark) : undefined))
    .find((mark) => mark?.code === 'window-opened');
  return opening?.at ?? parseUtc(own[0]?.utc ?? '') ?? (0 as Instant);
};

const bytesOf = ({ columns, derived }: Kept): number => columns.bytes() + (derived?.bytes() ?? 0);

export const createDecodedWindows = (index: LogIndex): DecodedWindows => {
  /** In the order in which they were asked for last. */
  const kept = new Map<string, Kept>();

  const begun = (id: string): Kept | undefined => {
    const known = kept.get(id);
    if (known !== undefined) return known;
    const found = index.window(id);
    if (found === undefined) return undefined;
    const book = found.book.body['book'] as unknown as Book;
    const decoder = createDecoder(book.signals, book.sources, readPlan(book));
    const zero = zeroOf(found.own);
    return { book, zero, columns: createColumns(), decoder, next: 0, derived: undefined };
  };

  const readOn = (id: string, one: Kept): void => {
    const traces = index.traces(id, one.next);
    const rows: Filling = newReadings(0);
    for (const { seq, body } of traces) {
      const bytes = index.reader.block(String(body['block']));
      const answers = bytes && decodeAnswers(bytes);
      for (const answer of answers ?? []) one.decoder.decode(answer, rows);
      one.columns.add(rows);
      rows.length = 0;
      one.next = seq + 1;
    }
    if (traces.length > 0) one.derived = undefined;
  };

  /** What is worked out from others is worked out in the judge: slower than reading, and only where it is asked for. */
  const derivedOf = (id: string): Columns => {
    const columns = createColumns();
    const found = index.window(id);
    const stored = found && storedWindow(index.reader, [found.book, ...found.own], id);
    const derived = new Set<number>(
      stored?.book.signals.flatMap((one) => (one.address.kind === 'derived' ? [one.id] : [])),
    );
    if (stored !== undefined && derived.size > 0)
      readAgain(
        stored,
        (signal) => derived.has(signal),
        (row) => columns.addOne(row),
      );
    return columns;
  };

  const trim = (): void => {
    let bytes = [...kept.values()].reduce((sum, one) => sum + bytesOf(one), 0);
    for (const [id, one] of kept) {
      if (bytes <= MOST_BYTES || kept.size === 1) return;
      bytes -= bytesOf(one);
      kept.delete(id);
    }
  };

  return {
    get(id) {
      const one = begun(id);
      if (one === undefined) return undefined;
      readOn(id, one);
      kept.delete(id);
      kept.set(id, one);
      trim();
      return {
        book: one.book,
        zero: one.zero,
        columns: one.columns,
        derived() {
          one.derived ??= derivedOf(id);
          return one.derived;
        },
      };
    },
  };
};
