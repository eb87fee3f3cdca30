import { atMost, lessThan } from '../measure/index.ts';
import type { Cause } from '../rulebook/index.ts';
import { type BandEdges, turn } from './levels.ts';
import type { Position } from './position.ts';
import type { Row } from './rows.ts';

/** Since when the value has certainly been between the two levels. */
export interface BandMemory {
  above: number;
  insideBy: number;
}

export const newBandMemory = (): BandMemory => ({ above: Number.NEGATIVE_INFINITY, insideBy: Number.NaN });

/** A value held between two levels and beyond neither: just inside the set point, or between alarm and stop. */
export const bandPosition = (
  cause: Cause & { kind: 'band' },
  memory: BandMemory,
  row: Row,
  edges: BandEdges,
): Position => {
  const now = turn(row, cause.side);
  const clear = lessThan(edges.near.high, now.low);
  const certain = atMost(now.high, edges.near.low) && atMost(edges.far.high, now.low);
  if (clear) memory.above = row.earliest;
  if (!certain) memory.insideBy = Number.NaN;
  else if (Number.isNaN(memory.insideBy)) memory.insideBy = row.latest;
  return {
    clear,
    possible: !clear,
    certain,
    step: false,
    beyond: lessThan(now.low, edges.far.high),
    ...(Number.isFinite(memory.above) && { reachedAfter: memory.above }),
    ...(certain && { reachedBy: memory.insideBy }),
  };
};
