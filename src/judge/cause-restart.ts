import type { Position } from './position.ts';
import type { Row } from './rows.ts';

/** The controller's count of life, as far as it has been followed. */
export interface RestartMemory {
  count: number;
  earliest: number;
  after: number;
  by: number;
}

export const newRestartMemory = (): RestartMemory => ({
  count: Number.NaN,
  earliest: Number.NEGATIVE_INFINITY,
  after: Number.NaN,
  by: Number.NaN,
});

/** A count falls to less than this part of what it was: it began anew. A roll-over looks the same, and is told as one. */
const FALLEN = 0.5;

/** The program was started again: its count of life begins anew. The cause is over as soon as it counts on. */
export const restartPosition = (memory: RestartMemory, row: Row): Position => {
  const fell = row.low < memory.count * FALLEN;
  if (fell) {
    memory.after = memory.earliest;
    memory.by = row.latest;
  }
  memory.count = row.low;
  memory.earliest = row.earliest;
  return {
    clear: !fell,
    possible: fell,
    certain: fell,
    step: true,
    ...(!Number.isNaN(memory.by) && { reachedAfter: memory.after, reachedBy: memory.by }),
  };
};
