import type { TrialVerdict, WindowVerdict } from '../judge/index.ts';
import { type Reading, SECOND } from '../measure/index.ts';
import type { Point, Series, TrialTrace } from '../report/index.ts';
import type { Book, Interlock } from '../rulebook/index.ts';
import { readAgain, type StoredWindow } from './replay.ts';

const MOST_POINTS = 1_200;
/** Shown before and after a trial, in seconds. */
const MARGIN = 4;

/** Both ends included, in µs since 1970. */
interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Readings of each signal, in their order. */
type Rows = ReadonlyMap<number, readonly Reading[]>;

const stretchOf = ({ span }: TrialVerdict): Stretch => ({
  from: span.earliest - MARGIN * SECOND,
  to: span.latest + MARGIN * SECOND,
});

const isIn = ({ from, to }: Stretch, at: number): boolean => at >= from && at <= to;

const signalsOf = ({ cause, effects }: Interlock): readonly number[] => [
  cause.signal,
  ...effects.map(({ signal }) => signal),
];

/** Which stretches of which signals are drawn. */
const drawnOf = (
  book: Book,
  verdicts: ReadonlyMap<number, WindowVerdict>,
): ReadonlyMap<number, readonly Stretch[]> => {
  const drawn = new Map<number, Stretch[]>();
  for (const interlock of book.interlocks) {
    const stretches = verdicts.get(interlock.id)?.trials.map(stretchOf) ?? [];
    for (const signal of signalsOf(interlock)) {
      const own = drawn.get(signal);
      if (own) own.push(...stretches);
      else drawn.set(signal, [...stretches]);
    }
  }
  return drawn;
};

/** Only what is drawn is kept: of thousands of signals over hours it is a small part. */
const rowsOf = (stored: StoredWindow, verdicts: ReadonlyMap<number, WindowVerdict>): Rows => {
  const drawn = drawnOf(stored.book, verdicts);
  const rows = new Map<number, Reading[]>();
  const isDrawn = (signal: number, latest: number): boolean =>
    drawn.get(signal)?.some((stretch) => isIn(stretch, latest)) ?? false;
  readAgain(stored, isDrawn, (row) => {
    const own = rows.get(row.signal);
    if (own) own.push(row);
    else rows.set(row.signal, [row]);
  });
  return rows;
};

const pointOf = (reading: Reading, zero: number): Point => {
  const t = (reading.at.latest - zero) / SECOND;
  return reading.value === undefined
    ? { t, gap: reading.absent ?? 'not-polled' }
    : { t, low: reading.value.low, high: reading.value.high };
};

/** Thins a measured signal by joining neighbours to their hull, so that no excursion is lost. */
const thinned = (points: readonly Point[]): Point[] => {
  const every = Math.ceil(points.length / MOST_POINTS);
  if (every <= 1) return [...points];
  const kept: Point[] = [];
  for (let index = 0; index < points.length; index += every) {
    const group = points.slice(index, index + every);
    const gap = group.find((point) => 'gap' in point);
    const values = group.filter((point) => 'low' in point);
    const last = group.at(-1);
    if (gap) kept.push(gap);
    if (last === undefined || values.length === 0) continue;
    kept.push({
      t: last.t,
      low: Math.min(...values.map((one) => one.low)),
      high: Math.max(...values.map((one) => one.high)),
    });
  }
  return kept;
};

const isSame = (one: Point, other: Point): boolean =>
  'gap' in one || 'gap' in other
    ? 'gap' in one && 'gap' in other && one.gap === other.gap
    : one.low === other.low && one.high === other.high;

/** Of a state only the changes count, and the first and last reading. */
const changes = (points: readonly Point[]): Point[] =>
  points.filter((point, index) => {
    const before = points[index - 1];
    const after = points[index + 1];
    return before === undefined || after === undefined || !isSame(before, point) || !isSame(after, point);
  });

/**
 * What is drawn of each trial of an interlock: its cause and effects, a little before and after it, in seconds since `zero`.
 */
export const tracesOf = (
  stored: StoredWindow,
  verdicts: ReadonlyMap<number, WindowVerdict>,
  zero: number,
): ((interlock: Interlock, verdict: WindowVerdict) => TrialTrace[]) => {
  const rows = rowsOf(stored, verdicts);
  const seriesOf = (signal: number, stretch: Stretch): Series => {
    const points = (rows.get(signal) ?? [])
      .filter(({ at }) => isIn(stretch, at.latest))
      .map((row) => pointOf(row, zero));
    const discrete = (stored.book.signals[signal]?.states.length ?? 0) > 0;
    return { signal, points: discrete ? changes(points) : thinned(points) };
  };
  return ({ cause, effects }, verdict) =>
    verdict.trials.map((trial) => {
      const stretch = stretchOf(trial);
      return {
        trial: trial.trial,
        from: (stretch.from - zero) / SECOND,
        to: (stretch.to - zero) / SECOND,
        cause: seriesOf(cause.signal, stretch),
        effects: effects.map(({ signal }) => seriesOf(signal, stretch)),
      };
    });
};
