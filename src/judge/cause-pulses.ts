import type { Cause } from '../rulebook/index.ts';
import { NOWHERE, type Position } from './position.ts';
import type { Row } from './rows.ts';

/** When the last pulse can have come. */
export interface PulseMemory {
  after: number;
  by: number;
  still: boolean;
  /** The reading before: its value and earliest instant; -Infinity: none. */
  low: number;
  earliest: number;
}

export const newPulseMemory = (): PulseMemory => ({
  after: Number.NEGATIVE_INFINITY,
  by: Number.NaN,
  still: false,
  low: Number.NaN,
  earliest: Number.NEGATIVE_INFINITY,
});

/**
 * No pulse for a time. A count stands still: the last pulse came between the last two readings that differ.
 * A speed reads zero: the loss lies between the last reading that certainly moved and the first that may not.
 */
export const pulsesPosition = (
  cause: Cause & { kind: 'no-pulses' },
  memory: PulseMemory,
  row: Row,
  counts: boolean,
): Position => {
  const first = !Number.isFinite(memory.earliest);
  const still = counts ? row.low === memory.low : row.low <= 0;
  const begins = counts ? !still : still && !memory.still;
  if (begins) {
    memory.after = memory.earliest;
    memory.by = row.latest;
  }
  memory.still = still;
  memory.low = row.low;
  memory.earliest = row.earliest;
  if (!still) return { clear: !first || !counts, possible: false, certain: false, step: false };
  if (Number.isNaN(memory.by)) return NOWHERE;
  const lasted = row.latest - memory.after >= cause.after / 2;
  return {
    clear: counts && !lasted,
    possible: lasted || !counts,
    certain: row.earliest - memory.by >= cause.after,
    step: true,
    reachedAfter: memory.after,
    reachedBy: memory.by,
  };
};
