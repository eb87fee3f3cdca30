import { atMost, lessThan } from '../measure/index.ts';
import type { Cause } from '../rulebook/index.ts';
import { type Edges, turn } from './levels.ts';
import type { Position } from './position.ts';
import type { Track } from './track.ts';

/**
 * A value below (or above) a level: absolute, percent of normal, or normal ± a difference.
 * Looks back from the newest reading to where the value last was certainly above the band.
 */
export const levelPosition = (cause: Cause & { kind: 'level' }, track: Track, edges: Edges): Position => {
  const newest = track.rows.at(-1);
  if (newest === undefined) return { clear: false, possible: true, certain: false, step: false };
  const now = turn(newest, cause.side);
  const certain = lessThan(now.high, edges.outer.low);
  const base = {
    clear: atMost(edges.clear.high, now.low),
    possible: atMost(now.low, edges.inner.high),
    certain,
  };
  if (base.clear) return { ...base, step: false };
  let reachedAfter: number | undefined;
  let reachedBy: number | undefined = certain ? newest.latest : undefined;
  let between = 0;
  let unbroken = certain;
  for (let index = track.rows.length - 1; index >= 0; index -= 1) {
    const row = track.rows[index];
    if (row === undefined) break;
    const value = turn(row, cause.side);
    if (lessThan(edges.inner.high, value.low)) {
      reachedAfter = row.earliest;
      break;
    }
    unbroken &&= lessThan(value.high, edges.outer.low);
    if (unbroken) reachedBy = row.latest;
    else between += 1;
  }
  return {
    ...base,
    ...(reachedAfter !== undefined && { reachedAfter }),
    ...(reachedBy !== undefined && { reachedBy }),
    step: certain && between === 0 && reachedAfter !== undefined,
  };
};
