import {
  absenceIndex,
  type Micros,
  newReadings,
  partOf,
  type Readings,
  SECOND,
  type SignalId,
} from '../measure/index.ts';
import type { SignalDef } from '../signal/index.ts';
import { withActing } from './acting.ts';
import { healthyLine } from './healthy.ts';
import { type Shown, shownOf } from './line.ts';
import type { Line, Play } from './types.ts';

/** The raw input shows what the program makes of it, unless it is written otherwise. */
const shownBy = (play: Play, raw: SignalId): SignalId | undefined =>
  play.book.machines.flatMap((machine) => machine.mirrors ?? []).find((one) => one.raw === raw)?.shown;

/** Every signal of the book as a line: as written, else as the acting interlocks leave it, else healthy. */
export const linesOf = (play: Play): readonly Line[] => {
  const written = new Map(play.lines.map((line) => [line.signal, line]));
  const acting = withActing(play, (signal) => healthyLine(play.book, signal), play.acting);
  const plain = (id: SignalId): Line => written.get(id) ?? acting.get(id) ?? healthyLine(play.book, id);
  return play.book.signals.map(({ id }) => {
    const shown = written.has(id) ? undefined : shownBy(play, id);
    const line = shown === undefined ? plain(id) : { ...plain(shown), signal: id };
    const over = play.covers.filter((cover) => cover.signal === undefined || cover.signal === id);
    return over.length === 0 ? line : { ...line, covers: [...line.covers, ...over] };
  });
};

const bounds = (signal: SignalDef, line: Line, value: number): { low: number; high: number } => {
  if (signal.states.length > 0) return { low: value, high: value };
  const { resolution, accuracy } = signal;
  const read = resolution > 0 ? Math.round(value / resolution) * resolution : value;
  const half = line.doubt ?? resolution / 2 + accuracy;
  return { low: read - half, high: read + half };
};

const SPARSE = SECOND;
/** Polls of which one is enough while nothing happens. */
const CALM = 5;

const isIdle = (line: Line): boolean => line.moves.length === 0 && line.covers.length === 0;

/** Effects and buttons of what is under test, where something could be missed, and what other signals come from. */
const watchedOf = (play: Play): ReadonlySet<number> => {
  const tested = play.stimuli.flatMap(({ interlock }) => play.book.interlocks[interlock] ?? []);
  const machines = tested.flatMap(({ machine }) => play.book.machines[machine] ?? []);
  const buttons = machines.flatMap(({ stops, resets, starts }) => [...stops, ...resets, ...starts]);
  const watched = [...buttons, ...tested.flatMap(({ effects }) => effects)];
  const inputs = play.book.signals.flatMap(({ address }) =>
    address.kind === 'derived' ? address.from.of : [],
  );
  return new Set<number>([...watched.map(({ signal }) => signal), ...inputs]);
};

interface Sampled {
  readonly signal: SignalDef;
  readonly line: Line;
  readonly shown: (t: Micros) => Shown;
  /** Every so many polls. */
  readonly each: number;
}

/** Adds what one poll shows of a signal as row `row`; false: nothing came. */
const put = (
  into: Readings,
  row: number,
  one: Sampled,
  times: { t: Micros; at: Micros; age: Micros },
  response: number,
): boolean => {
  const shown = one.shown(times.at);
  if (shown.silent) return false;
  into.signal[row] = one.signal.id;
  into.earliest[row] = times.t - times.age;
  into.latest[row] = times.t;
  into.response[row] = response;
  into.flags[row] = shown.flags;
  if (shown.absence !== undefined) into.why[row] = absenceIndex(shown.absence);
  else {
    const { low, high } = bounds(one.signal, one.line, shown.value);
    into.low[row] = low;
    into.high[row] = high;
  }
  return true;
};

/** The polls of a play, by number; while nothing happens only some of them. */
const pollsOf = (play: Play): readonly number[] => {
  const { every, phase, sparse } = play.polling;
  const polls: number[] = [];
  for (let n = 0; phase + n * every <= play.lasts; n += 1) {
    const t = phase + n * every;
    if (n % CALM !== 0 && sparse?.some(({ from, until }) => t >= from && t <= until) === false) continue;
    polls.push(n);
  }
  return polls;
};

/** The readings that polling brings of a play, in order. */
export const sample = (play: Play): Readings => {
  const { every, phase, age, scan, oneAnswer, sparse } = play.polling;
  const lines = linesOf(play);
  const watched = watchedOf(play);
  const sampled = play.book.signals.flatMap((signal, index): Sampled[] => {
    const line = lines[index];
    // A derived signal is worked out from the others.
    if (line === undefined || signal.address.kind === 'derived') return [];
    const idle = sparse !== undefined && isIdle(line) && !watched.has(signal.id);
    const each = idle ? Math.max(1, Math.round(SPARSE / every)) : 1;
    return [{ signal, line, shown: shownOf(line), each }];
  });
  const polls = pollsOf(play);
  const columns = newReadings(polls.length * sampled.length);
  let rows = 0;
  for (const n of polls) {
    const t = phase + n * every;
    const times = { t, at: scan > 0 ? Math.floor(t / scan) * scan : t, age };
    for (const one of sampled) {
      if (n % one.each === 0 && put(columns, rows, one, times, oneAnswer ? n + 1 : 0)) rows += 1;
    }
  }
  return partOf(columns, 0, rows);
};
