import { type Micros, type Outcome, SECOND, type SignalId } from '../measure/index.ts';
import type { Book, Condition, Interlock, Machine } from '../rulebook/index.ts';
import { causesOf, healthyLine } from './healthy.ts';
import { AS_WRITTEN, type Staged, stage } from './stage.ts';
import type { Truth } from './stimulus.ts';
import type { Cover, Line, Play } from './types.ts';
import { type Rest, worldOf } from './world.ts';

/** What may come out of a mutation: one of these verdicts, with one of these codes among what speaks against a pass. */
export interface Allowed {
  readonly outcome: Outcome;
  readonly codes: readonly string[];
}

/** A play that is wrong in one way, and what the judge must say to it. */
export interface Mutation {
  /** A code with a text of its own. */
  readonly code: string;
  /** Effect, signal or interlock that it is about. */
  readonly about: string;
  readonly play: Play;
  readonly allowed: readonly Allowed[];
}

/** The interlock under the knife, played as it should act. */
export interface Table {
  readonly book: Book;
  readonly interlock: Interlock;
  readonly machine: Machine | undefined;
  readonly nominal: Staged;
  readonly rest: Rest;
  /** Its cause, or what the cause is made of. */
  readonly causes: readonly SignalId[];
  /** The same with a controller that is otherwise than written. */
  readonly staged: (truth: Partial<Truth>) => Staged;
}

export const tableOf = (book: Book, interlock: Interlock): Table | undefined => {
  const nominal = stage(book, interlock);
  if (nominal === undefined) return undefined;
  return {
    book,
    interlock,
    machine: book.machines[interlock.machine],
    nominal,
    rest: worldOf(book, interlock).rest,
    causes: causesOf(interlock.cause).map(({ signal }) => signal),
    staged: (truth) => stage(book, interlock, { ...AS_WRITTEN, ...truth }) ?? nominal,
  };
};

export const fails = (...codes: string[]): Allowed => ({ outcome: 'fail', codes });
export const undecided = (...codes: string[]): Allowed => ({ outcome: 'inconclusive', codes });
export const untested = (...codes: string[]): Allowed => ({ outcome: 'not-tested', codes });

/** Long enough for an effect to be certainly overdue: a ramp goes from its set point to the end of the band meanwhile. */
export const waiting = (within: Micros): Micros => 2 * within + 4 * SECOND;

/** What comes where nothing could be tried. */
export const NO_TRIAL = untested('no-trial');

export const nameOf = (book: Book, signal: SignalId): string => book.signals[signal]?.name ?? '';

/** The line of a signal in a play, or as it is while all is well. */
export const lineIn = (play: Play, signal: SignalId): Line =>
  play.lines.find((line) => line.signal === signal) ?? healthyLine(play.book, signal);

export const withLine = (play: Play, line: Line): Play => ({
  ...play,
  lines: [...play.lines.filter((one) => one.signal !== line.signal), line],
});

export const withCovers = (play: Play, covers: Play['covers']): Play => ({
  ...play,
  covers: [...play.covers, ...covers],
});

/** A condition made true for a time. */
export const holding = (condition: Condition, from: number, until: number): Cover & { signal: SignalId } => ({
  signal: condition.signal,
  from,
  until,
  what: { kind: 'value', value: condition.state },
});
