import type { Interval } from './interval.ts';

/** What a trial or a window says of an interlock. */
export const OUTCOMES = ['pass', 'fail', 'inconclusive', 'not-tested'] as const;
export type Outcome = (typeof OUTCOMES)[number];

/** The parts of the chain from the sensor to the people, in the order of the signal. */
export const SEGMENTS = [
  'sensor',
  'wiring',
  'input',
  'logic',
  'output',
  'relay',
  'motion',
  'feed',
  'horn',
  'people',
] as const;
export type Segment = (typeof SEGMENTS)[number];

/** Everything is needed for a pass: a fail outweighs all, then inconclusive, then not tested. */
export const allOf = (outcomes: readonly Outcome[]): Outcome => {
  if (outcomes.length === 0) return 'not-tested';
  for (const outcome of ['fail', 'inconclusive', 'not-tested'] as const) {
    if (outcomes.includes(outcome)) return outcome;
  }
  return 'pass';
};

/** Exit code over several verdicts: 1 any fail, else 2 any inconclusive or not tested, else 0. None at all: 2. */
export const exitCodeOf = (outcomes: readonly Outcome[]): 0 | 1 | 2 => {
  const outcome = allOf(outcomes);
  if (outcome === 'pass') return 0;
  return outcome === 'fail' ? 1 : 2;
};

/** A finding is a code with parameters; its text is made at the edge from the message catalogue (`words`). */
export type Param = number | string | Interval | readonly string[];
export interface Reason {
  readonly code: string;
  readonly params: Readonly<Record<string, Param>>;
}

/** The same, where a parameter may be a phrase of its own, or a list of them. Every reason is one. */
export interface Phrase {
  readonly code: string;
  readonly params: Readonly<Record<string, Param | Phrase | readonly Phrase[]>>;
}
