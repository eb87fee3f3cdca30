import {
  columnsOf,
  type Micros,
  type Reading,
  type Readings,
  SECOND,
  type SignalId,
  spanOf,
} from '../measure/index.ts';
import type { SignalDef } from '../signal/index.ts';
import { withActing } from './acting.ts';
import { healthyLine } from './healthy.ts';
import { type Shown, shownOf } from './line.ts';
import type { Line, Play } from './types.ts';

/** Every signal of the book as a line: as written, else as the acting interlocks leave it, else healthy. */
export const linesOf = (play: Play): readonly Line[] => {
  const written = new Map(play.lines.map((line) => [line.signal, line]));
  const acting = withActing(play, (signal) => healthyLine(play.book, signal), play.acting);
  return play.book.signals.map(({ id }) => {
    const line = written.get(id) ?? acting.get(id) ?? healthyLine(play.book, id);
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

const isIdle = (line: Line): boolean => line.moves.length === 0 && line.covers.length === 0;

interface Sampled {
  readonly signal: SignalDef;
  readonly line: Line;
  readonly shown: (t: Micros) => Shown;
  /** Every so many polls. */
  readonly each: number;
}

const readingOf = (
  one: Sampled,
  t: Micros,
  at: Micros,
  age: Micros,
  response: number,
): Reading | undefined => {
  const shown = one.shown(at);
  if (shown.silent) return undefined;
  const base = { signal: one.signal.id as SignalId, at: spanOf(t - age, t), response, flags: shown.flags };
  if (shown.absence !== undefined) return { ...base, absent: shown.absence };
  return { ...base, value: bounds(one.signal, one.line, shown.value) };
};

/** The readings that polling brings of a play, in order. */
export const sample = (play: Play): Readings => {
  const { every, phase, age, scan, oneAnswer, sparse } = play.polling;
  const lines = linesOf(play);
  const sampled = play.book.signals.flatMap((signal, index): Sampled[] => {
    const line = lines[index];
    if (line === undefined) return [];
    const each = sparse && isIdle(line) ? Math.max(1, Math.round(SPARSE / every)) : 1;
    return [{ signal, line, shown: shownOf(line), each }];
  });
  const rows: Reading[] = [];
  for (let n = 0; phase + n * every <= play.lasts; n += 1) {
    const t = phase + n * every;
    const at = scan > 0 ? Math.floor(t / scan) * scan : t;
    for (const one of sampled) {
      if (n % one.each !== 0) continue;
      const reading = readingOf(one, t, at, age, oneAnswer ? n + 1 : 0);
      if (reading !== undefined) rows.push(reading);
    }
  }
  return columnsOf(rows);
};
