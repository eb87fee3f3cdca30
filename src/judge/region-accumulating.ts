import { openRegion, type Region } from './region.ts';
import type { Row } from './track.ts';

/** A piece of time between two readings: how long at least and at most, and between which values. */
interface Piece {
  readonly least: number;
  readonly most: number;
  readonly low: number;
  readonly high: number;
  readonly ends: number;
  readonly begins: number;
}

const piecesOf = (rows: readonly Row[]): Piece[] =>
  rows.slice(1).map((row, index) => {
    const before = rows[index] ?? row;
    return {
      least: Math.max(0, row.earliest - before.latest),
      most: row.latest - before.earliest,
      low: Math.min(before.low, row.low),
      high: Math.max(before.high, row.high),
      begins: before.earliest,
      ends: row.latest,
    };
  });

/** Levels in rising order, each with the time spent below it; the time rises with the level. */
const spent = (
  pieces: readonly (readonly [level: number, time: number])[],
): { level: number; time: number }[] => {
  let sum = 0;
  return [...pieces]
    .sort((a, b) => a[0] - b[0])
    .map(([level, time]) => {
      sum += time;
      return { level, time: sum };
    });
};

/**
 * The same for a delay that accumulates: the effect comes when the time spent below the level, whenever that was, adds
 * up to d. The time below a level is at most that of all pieces that may have been below it, and at least that of all
 * that certainly were. Each trial begins with an empty sum.
 */
export const accumulatingRegion = (
  delay: number,
  rows: readonly Row[],
  from: number,
  changed: { readonly after: number; readonly by: number } | undefined,
  quietUntil: number,
): Region => {
  const region = openRegion(delay);
  const pieces = piecesOf(rows.filter((row) => row.latest >= from));
  const until = changed?.after ?? quietUntil;
  const most = spent(
    pieces
      .filter((piece) => piece.begins < (changed?.by ?? 0))
      .map(({ low, most: time, begins }) => [low, Math.min(time, (changed?.by ?? 0) - begins)]),
  );
  const least = spent(
    pieces.filter((piece) => piece.ends <= until).map(({ high, least: time }) => [high, time]),
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
