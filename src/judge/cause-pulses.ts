import type { Cause } from '../rulebook/index.ts';
import type { Position } from './position.ts';
import type { Track } from './track.ts';

/**
 * No pulse for a time. A count stands still: the last pulse came between the last two readings that differ.
 * A speed reads zero: the loss lies between the last reading that certainly moved and the first that may not.
 */
export const pulsesPosition = (cause: Cause & { kind: 'no-pulses' }, track: Track): Position => {
  const newest = track.rows.at(-1);
  if (newest === undefined) return { clear: false, possible: true, certain: false, step: false };
  const counts = track.def.quantity === 'count';
  const still = (at: number): boolean => {
    const row = track.rows[at];
    const previous = track.rows[at - 1];
    if (row === undefined || (counts && previous === undefined)) return false;
    return counts ? row.low === previous?.low : row.low <= 0;
  };
  let index = track.rows.length - 1;
  if (!still(index)) return { clear: true, possible: false, certain: false, step: false };
  while (still(index - 1)) index -= 1;
  // For a count, rows[index − 1] brought the last pulse; for a speed, rows[index] is the first that may be zero.
  const first = track.rows[counts ? index - 1 : index];
  const before = track.rows[counts ? index - 2 : index - 1];
  const reachedBy = first?.latest ?? newest.latest;
  const reachedAfter = before?.earliest ?? Number.NEGATIVE_INFINITY;
  return {
    clear: counts && newest.latest - reachedAfter < cause.after / 2,
    possible: newest.latest - reachedAfter >= cause.after / 2 || !counts,
    certain: newest.earliest - reachedBy >= (counts ? cause.after : 0),
    step: true,
    reachedAfter,
    reachedBy,
  };
};
