import type { Micros } from '../../measure/index.ts';

const SECOND: Micros = 1_000_000;

/** What a unit that gives no values costs, and how often it did. */
export interface Trouble {
  /** In a row, this one included. */
  readonly failures: number;
  readonly poll: Micros;
  /** Time that the last try took from the others. */
  readonly took: Micros;
  /** Other units wait behind it. */
  readonly shared: boolean;
}

/**
 * How long a silent unit is not asked. Alone on its line it is asked at each slot, for nobody waits. Beside others it is
 * tried once more, for an answer may be lost; then it may take a fifth of their time, then half of that each time, down to
 * one try in 30 s.
 */
export const afterSilence = ({ failures, took, shared }: Trouble): Micros =>
  shared && failures > 1 ? Math.min(30 * SECOND, 4 * took * (1 << Math.min(failures - 2, 10))) : 0;

/** How long a unit is not asked that is busy, or that a gateway cannot reach. Alone on its line it misses one slot. */
export const afterException = ({ failures, poll, took, shared }: Trouble): Micros => {
  const once = Math.max(1.5 * poll, 4 * took);
  return shared ? Math.min(30 * SECOND, once * (1 << Math.min(failures - 1, 10))) : 1.5 * poll;
};
