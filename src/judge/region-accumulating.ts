import type { Delay } from '../rulebook/index.ts';
import { openRegion, type Region } from './region.ts';
import { listOf, type Row, type Rows } from './rows.ts';

/** Time without a reading. */
interface Unseen {
  readonly from: number;
  readonly to: number;
}

/** The time between two neighbouring readings. */
interface Piece {
  readonly from: Row;
  readonly to: Row;
  readonly low: number;
  readonly high: number;
}

/** Across a silence, however short, the cause may have come and gone: a sum counts what no single reading shows. */
const piecesOf = (rows: readonly Row[], gaps: readonly Unseen[]): Piece[] =>
  rows.slice(1).map((to, index) => {
    const from = rows[index] ?? to;
    const unseen = gaps.some((gap) => gap.from < to.latest && gap.to > from.latest);
    return {
      from,
      to,
      low: unseen ? Number.NEGATIVE_INFINITY : Math.min(from.low, to.low),
      high: unseen ? Number.POSITIVE_INFINITY : Math.max(from.high, to.high),
    };
  });

/** How long a row of pieces lasted, at most or at least. */
type Length = (first: Piece, last: Piece) => number;

interface Spent {
  readonly level: number;
  readonly time: number;
}

/**
 * Levels in rising order, each with the time spent below it; the time rises with the level. Pieces that follow each
 * other are measured as one, so that the doubt of their times counts once.
 */
const spent = (pieces: readonly Piece[], levelOf: (piece: Piece) => number, length: Length): Spent[] => {
  const starts = new Map<number, number>();
  const ends = new Map<number, number>();
  const lengthOf = (first: number, last: number): number => {
    const [from, to] = [pieces[first], pieces[last]];
    return from === undefined || to === undefined ? 0 : length(from, to);
  };
  let sum = 0;
  return pieces
    .map((piece, index) => ({ index, level: levelOf(piece) }))
    .sort((a, b) => a.level - b.level)
    .map(({ index, level }) => {
      const first = starts.get(index - 1) ?? index;
      const last = ends.get(index + 1) ?? index;
      if (first < index) sum -= lengthOf(first, index - 1);
      if (last > index) sum -= lengthOf(index + 1, last);
      sum += lengthOf(first, last);
      starts.set(last, first);
      ends.set(first, last);
      return { level, time: sum };
    });
};

/**
 * The same for a delay that accumulates: the effect comes when the time spent below the level, whenever that was, adds
 * up to d. The time below a level is at most that of all pieces that may have been below it, and at least that of all
 * that certainly were. Each trial begins with an empty sum.
 */
export const accumulatingRegion = (
  delay: Pick<Delay, 'time' | 'tolerance'>,
  rows: Rows,
  gaps: readonly Unseen[],
  from: number,
  changed: { readonly after: number; readonly by: number } | undefined,
  quietUntil: number,
): Region => {
  const region = openRegion(delay.time, delay.tolerance);
  const pieces = piecesOf(
    listOf(rows).filter((row) => row.latest >= from),
    gaps,
  );
  const until = changed?.after ?? quietUntil;
  const by = changed?.by ?? quietUntil;
  const most = spent(
    pieces.filter((piece) => piece.from.earliest < by),
    ({ low }) => low,
    (first, last) => Math.max(0, Math.min(last.to.latest, by) - first.from.earliest),
  );
  const least = spent(
    pieces.filter((piece) => piece.from.latest < until),
    ({ high }) => high,
    (first, last) => Math.max(0, Math.min(last.to.earliest, until) - first.from.latest),
  );
  for (let cell = 0; cell < region.low.length; cell += 1) {
    const first = cell * region.width;
    const last = first + region.width;
    if (changed !== undefined)
      region.low[cell] = most.find(({ time }) => time >= first)?.level ?? Number.POSITIVE_INFINITY;
    const beyond = least.find(({ time }) => time > last);
    if (beyond !== undefined) region.high[cell] = Math.min(region.high[cell] ?? 0, beyond.level);
  }
  return region;
};
