import { lessThan, type Micros, type Reading, SECOND, type SignalId } from '../measure/index.ts';
import { type Book, causeRoots, causeSignals, type Interlock } from '../rulebook/index.ts';

/** So long before a watch its signals are looked at, for what they do by themselves. */
export const BEFORE: Micros = 5 * SECOND;

/** Fewer readings than this say nothing of what a signal does by itself. */
const LEAST = 4;

/** A signal that drifts may go on, twice as fast as it did. Common practice, no source. */
const FASTER = 2;

/** Signals that a person at one sensor may move: its own, and those that it could be mistaken for. */
export interface Suspects {
  readonly own: readonly SignalId[];
  readonly others: readonly SignalId[];
  /** What the interlock brings about: once it has acted, other signals move by right. */
  readonly effects: readonly SignalId[];
}

/**
 * Those that could be mistaken for it: causes of the other interlocks that measure the same quantity, or are states as
 * it is. What is worked out from the same sensor moves with it.
 */
export const suspectsOf = (book: Book, interlock: Interlock): Suspects => {
  const own = causeSignals(interlock.cause);
  const roots = causeRoots(book, interlock.cause);
  const quantities = new Set(own.map((id) => book.signals[id]?.quantity));
  const effects = interlock.effects.flatMap(({ signal, becomes }) =>
    becomes.kind === 'state' ? [signal] : [],
  );
  const others = new Set(
    book.interlocks.flatMap(({ cause }) =>
      [...causeRoots(book, cause)].some((id) => roots.has(id)) ? [] : causeSignals(cause),
    ),
  );
  for (const id of [...own, ...effects]) others.delete(id);
  return {
    own,
    others: [...others].filter((id) => quantities.has(book.signals[id]?.quantity)),
    effects,
  };
};

interface Value {
  readonly at: number;
  readonly low: number;
  readonly high: number;
}

const valuesOf = (rows: readonly Reading[], signal: SignalId): readonly Value[] =>
  rows.flatMap(({ signal: own, at, value }) =>
    own === signal && value !== undefined ? [{ at: (at.earliest + at.latest) / 2, ...value }] : [],
  );

const meanOf = (values: readonly Value[]): number =>
  values.reduce((sum, { low, high }) => sum + (low + high) / 2, 0) / values.length;

/** What the signal did by itself: the hull of its readings, and how fast it drifted (units a second, either way). */
const restOf = (values: readonly Value[]): { low: number; high: number; drift: number; until: number } => {
  const half = Math.floor(values.length / 2);
  const [first, last] = [values.slice(0, half), values.slice(half)];
  const centre = (part: readonly Value[]): number =>
    part.reduce((sum, { at }) => sum + at, 0) / part.length / SECOND;
  const time = centre(last) - centre(first);
  return {
    low: Math.min(...values.map(({ low }) => low)),
    high: Math.max(...values.map(({ high }) => high)),
    drift: time > 0 ? Math.abs(meanOf(last) - meanOf(first)) / time : 0,
    until: values.at(-1)?.at ?? 0,
  };
};

/** It is certainly elsewhere than its noise, its doubt and its drift can have brought it. */
const hasMoved = (before: readonly Value[], during: readonly Value[]): boolean => {
  const rest = restOf(before);
  return during.some(({ at, low, high }) => {
    const drifted = (FASTER * rest.drift * Math.max(0, at - rest.until)) / SECOND;
    return lessThan(high, rest.low - drifted) || lessThan(rest.high + drifted, low);
  });
};

const isState = (book: Book, signal: SignalId): boolean => (book.signals[signal]?.states.length ?? 0) > 0;

/** States have no noise: any other certain state has moved. */
const hasChanged = (before: readonly Value[], during: readonly Value[]): boolean => {
  const last = before.at(-1);
  return last !== undefined && during.some(({ low, high }) => low === high && low !== last.low);
};

/** Enough is known of the signal from before to tell a movement of it. */
export const isSeen = (book: Book, before: readonly Reading[], signal: SignalId): boolean =>
  valuesOf(before, signal).length >= (isState(book, signal) ? 1 : LEAST);

export interface Moved {
  /** Names, those of the own signals first. */
  readonly moved: readonly string[];
  readonly alone: boolean;
}

/**
 * Which signals moved while the sensor was touched. `before`: readings of the last `BEFORE` until then; `during`: since.
 * What comes once the interlock has acted does not count: a machine that stops takes many signals with it. A signal that
 * it could be mistaken for and that cannot be seen leaves open whether it moved alone: it is not.
 */
export const movedBetween = (
  book: Book,
  { own, others, effects }: Suspects,
  before: readonly Reading[],
  during: readonly Reading[],
): Moved => {
  const acted = effects.flatMap((signal) => {
    const last = valuesOf(before, signal).at(-1);
    const change = valuesOf(during, signal).find(({ low }) => last !== undefined && low !== last.low);
    return change === undefined ? [] : [change.at];
  });
  const until = Math.min(Number.POSITIVE_INFINITY, ...acted);
  const counting = during.filter(({ at }) => (at.earliest + at.latest) / 2 < until);
  const moved = (signal: SignalId): boolean => {
    const [then, since] = [valuesOf(before, signal), valuesOf(counting, signal)];
    if (!isSeen(book, before, signal)) return false;
    return isState(book, signal) ? hasChanged(then, since) : hasMoved(then, since);
  };
  const unseen = others.some(
    (signal) => !isSeen(book, before, signal) || valuesOf(counting, signal).length === 0,
  );
  const [mine, foreign] = [own.filter(moved), others.filter(moved)];
  return {
    moved: [...mine, ...foreign].flatMap((signal) => book.signals[signal]?.name ?? []),
    alone: mine.length > 0 && foreign.length === 0 && !unseen,
  };
};
