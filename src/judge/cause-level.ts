import { atMost, lessThan } from '../measure/index.ts';
import type { Cause } from '../rulebook/index.ts';
import { type Edges, turn } from './levels.ts';
import { CLEAR, type Position } from './position.ts';
import type { Row } from './rows.ts';

/** What a level remembers of the way so far, so that no reading looks back. */
export interface LevelMemory {
  /** Earliest instant of the last reading certainly above the band. */
  above: number;
  /** Latest instant of the first reading of the unbroken run certainly beyond the band; NaN: none. */
  beyondBy: number;
  /** Readings between the two that were neither. */
  between: number;
}

export const newLevelMemory = (): LevelMemory => ({
  above: Number.NEGATIVE_INFINITY,
  beyondBy: Number.NaN,
  between: 0,
});

/** A value below (or above) a level: absolute, percent of normal, or normal ± a difference. Takes the next reading. */
export const levelPosition = (
  cause: Cause & { kind: 'level' },
  memory: LevelMemory,
  row: Row,
  edges: Edges,
): Position => {
  const now = turn(row, cause.side);
  const certain = lessThan(now.high, edges.outer.low);
  const clear = atMost(edges.clear.high, now.low);
  const possible = atMost(now.low, edges.inner.high);
  if (!possible) {
    memory.above = row.earliest;
    memory.beyondBy = Number.NaN;
    memory.between = 0;
  } else if (!certain) {
    memory.beyondBy = Number.NaN;
    memory.between += 1;
  } else if (Number.isNaN(memory.beyondBy)) memory.beyondBy = row.latest;
  if (clear && !possible && !certain) return CLEAR;
  if (clear) return { clear, possible, certain, step: false };
  const known = Number.isFinite(memory.above);
  return {
    clear,
    possible,
    certain,
    step: certain && memory.between === 0 && known,
    ...(known && { reachedAfter: memory.above }),
    ...(certain && { reachedBy: memory.beyondBy }),
  };
};
