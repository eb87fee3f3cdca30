import type { Cause } from '../rulebook/index.ts';
import { NOWHERE, type Position } from './position.ts';
import type { Row } from './rows.ts';

/** The values since the last move by more than `within`. */
export interface StuckMemory {
  low: number;
  high: number;
  after: number;
  by: number;
  earliest: number;
}

export const newStuckMemory = (): StuckMemory => ({
  low: Number.NaN,
  high: Number.NaN,
  after: Number.NEGATIVE_INFINITY,
  by: Number.NaN,
  earliest: Number.NEGATIVE_INFINITY,
});

/** A value that should move and does not: since its last move it has stayed within a small distance. */
export const stuckPosition = (cause: Cause & { kind: 'stuck' }, memory: StuckMemory, row: Row): Position => {
  const middle = (row.low + row.high) / 2;
  const low = Math.min(memory.low, middle);
  const high = Math.max(memory.high, middle);
  if (high - low <= cause.within) {
    memory.low = low;
    memory.high = high;
  } else {
    memory.low = middle;
    memory.high = middle;
    memory.after = memory.earliest;
    memory.by = row.latest;
  }
  memory.earliest = row.earliest;
  if (!Number.isFinite(memory.after)) return NOWHERE;
  return {
    clear: row.latest - memory.after < cause.after / 2,
    possible: row.latest - memory.after >= cause.after / 2,
    certain: row.earliest - memory.by >= cause.after,
    step: true,
    reachedAfter: memory.after,
    reachedBy: memory.by,
  };
};
