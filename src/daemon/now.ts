import type {
  ClockNow,
  ContradictionNow,
  DemandNow,
  InterlockNow,
  Now,
  RateNow,
  SignalNow,
  SourceNow,
} from '../api/index.ts';
import type { OpenSource, Rate } from '../field/index.ts';
import { formatUtc, type Instant, type Reading, SECOND, type SignalId } from '../measure/index.ts';
import type { Book } from '../rulebook/index.ts';
import type { ClockKnown, SignalDef } from '../signal/index.ts';
import { sourceClockNow } from './clocks.ts';
import type { Latest } from './latest.ts';
import type { WindowRun } from './window-run.ts';

const signalNow = (
  def: SignalDef,
  reading: Reading | undefined,
  at: Instant,
  words: string | undefined,
): SignalNow => {
  const base = { name: def.name, unit: def.unit };
  if (reading === undefined) return { ...base, absent: 'not-polled' };
  if (reading.value === undefined) return { ...base, absent: reading.absent ?? 'not-polled' };
  const age = Math.max(0, at - reading.at.earliest) / SECOND;
  const { low, high } = reading.value;
  if (age * SECOND > def.agedAfter + def.age) return { ...base, absent: 'aged', age };
  // The code of a text says nothing to anybody.
  if (def.decoding.as === 'text') return { ...base, unit: '', state: words ?? String(low), age };
  return def.states.length > 0
    ? { ...base, state: def.states[low] ?? String(low), age }
    : { ...base, low, high, age };
};

const rateNow = ({ pace, wanted, achieved }: Rate): RateNow => ({
  pace,
  wanted: wanted / SECOND,
  ...(achieved !== undefined && { achieved: achieved / SECOND }),
});

/** What is remembered of the run so far, newest first. */
export interface Lately {
  readonly clock: ClockNow;
  /** What each signal that is a text last said. */
  readonly texts: ReadonlyMap<SignalId, string>;
  readonly clockOf: (source: number) => ClockKnown | undefined;
  readonly contradictions: readonly ContradictionNow[];
  readonly demands: readonly DemandNow[];
}

/** The state of everything at `at`. */
export const nowOf = (
  book: Book,
  at: Instant,
  latest: Latest,
  open: readonly OpenSource[],
  window: WindowRun | undefined,
  { clock, texts, clockOf, ...lately }: Lately,
): Now => {
  const waits = window?.waits();
  const advice = new Map(window?.advice().map((one) => [one.interlock, one]));
  const live = book.sources.filter((source) => source.protocol !== 'trace');
  const sources = live.map((source, index): SourceNow => {
    const stats = open[index]?.stats();
    const known = clockOf(book.sources.indexOf(source));
    return {
      name: source.name,
      connected: stats?.connected ?? false,
      answers: stats?.answers ?? 0,
      lost: stats?.nothings ?? 0,
      reconnects: stats?.reconnects ?? 0,
      overruns: stats?.overruns ?? 0,
      rates: (stats?.rates ?? []).map(rateNow),
      ...(known && { clock: sourceClockNow(known) }),
    };
  });
  const interlocks = book.interlocks.map((interlock): InterlockNow => {
    const own = waits?.get(interlock.id);
    const told = advice.get(interlock.name);
    return {
      name: interlock.name,
      title: interlock.title,
      machine: book.machines[interlock.machine]?.name ?? '',
      testing: own !== undefined,
      trial: own?.trial ?? 0,
      waits: own?.waits ?? [],
      ...(told && { advice: told }),
    };
  });
  return {
    site: book.site,
    title: book.title,
    utc: formatUtc(at),
    clock,
    ...(window && {
      window: {
        id: window.id,
        opened: formatUtc(window.opened),
        demand: window.demand,
        said: window.said(),
      },
    }),
    sources,
    signals: book.signals.map((def) => signalNow(def, latest.get(def.id), at, texts.get(def.id))),
    interlocks,
    ...lately,
  };
};
