import type { SignalNow, SourceNow } from '../api/index.ts';
import { type Instant, type Reading, SECOND, type SignalId } from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import { type Answer, createDecoder } from '../signal/index.ts';
import { planOf } from './pipeline.ts';

/** What is known of every signal just now, whatever windows there are. */
export interface Present {
  take(answer: Answer): void;
  signals(now: Instant): readonly SignalNow[];
  /** What a machine's program says it is, as text; undefined where nothing is read. */
  revision(machine: number): string | undefined;
}

const shown = (book: Book, reading: Reading, now: Instant): SignalNow => {
  const def = book.signals[reading.signal];
  const base = { name: def?.name ?? '', unit: def?.unit ?? '' };
  const age = Math.max(0, now - reading.at.earliest) / SECOND;
  const { value } = reading;
  if (value === undefined) return { ...base, age, absent: reading.absent ?? 'not-polled' };
  if (def !== undefined && now - reading.at.latest > def.agedAfter) return { ...base, age, absent: 'aged' };
  const state = value.low === value.high ? def?.states[value.low] : undefined;
  return state === undefined
    ? { ...base, age, low: value.low, high: value.high }
    : { ...base, age, state, low: value.low, high: value.high };
};

export const createPresent = (book: Book): Present => {
  const decoder = createDecoder(book.signals, book.sources, planOf(book));
  const latest = new Map<SignalId, Reading>();
  return {
    take(answer) {
      for (const reading of decoder.feed(answer)) latest.set(reading.signal, reading);
    },
    signals: (now) =>
      book.signals.map((def): SignalNow => {
        const reading = latest.get(def.id);
        return reading ? shown(book, reading, now) : { name: def.name, unit: def.unit, absent: 'not-polled' };
      }),
    revision(machine) {
      const signal = book.machines[machine]?.revision;
      const value = signal === undefined ? undefined : latest.get(signal)?.value;
      return value && String(Math.round((value.low + value.high) / 2));
    },
  };
};

/** Counts of a source that its room keeps, as the console shows them. */
export const sourceNow = (
  name: string,
  stats:
    | { connected: boolean; answers: number; nothings: number; reconnects: number; overruns: number }
    | undefined,
): SourceNow => ({
  name,
  connected: stats?.connected ?? false,
  answers: stats?.answers ?? 0,
  lost: (stats?.nothings ?? 0) + (stats?.overruns ?? 0),
  reconnects: stats?.reconnects ?? 0,
});
