/** Readings for checks that need a finer, or an exact, cause than the small elevator of the judge's tests gives. */
import type { Reading } from '../../src/measure/index.ts';
import { idOf, type Name, S } from '../rooms/judge/rig.ts';

/** The time of a reading on the tests' clock, in seconds. */
export const secondsOf = (row: Reading): number => row.at.latest / S - 1_000_000;

/** The readings with `name` shown as value ± half, by a function of time. */
export const refined = (
  rows: readonly Reading[],
  name: Name,
  value: (t: number) => number,
  half: number,
): Reading[] =>
  rows.map((row) => {
    if (row.signal !== idOf(name) || row.value === undefined) return row;
    const now = value(secondsOf(row));
    return { ...row, value: { low: now - half, high: now + half } };
  });
