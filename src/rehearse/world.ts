import type { SignalId } from '../measure/index.ts';
import {
  type Book,
  type Cause,
  type Condition,
  type Interlock,
  levelAt,
  type Machine,
} from '../rulebook/index.ts';
import { causesOf, healthyLine, referencesOf } from './healthy.ts';
import type { Line } from './types.ts';

/** What each signal does while an interlock waits, armed and with nothing the matter. */
export type Rest = (signal: SignalId) => Line;

const otherState = (state: number): number => (state === 0 ? 1 : 0);

/** Causes that must not be there before; of a group as many as keep it from being one. */
const absentOf = (cause: Cause): readonly Cause[] =>
  cause.kind === 'group' ? cause.of.slice(0, cause.of.length - cause.need + 1).flatMap(absentOf) : [cause];

const shows = (machine: Machine): readonly Condition[] => [...machine.running, ...(machine.feedbacks ?? [])];

/** The cause is that the machine is told to run. */
export const isStart = (book: Book, interlock: Interlock): boolean =>
  causesOf(interlock.cause).some(
    (cause) =>
      cause.kind === 'contact' &&
      book.machines.some(({ running }) =>
        running.some(({ signal, state }) => signal === cause.signal && state === cause.state),
      ),
  );

/** States that an interlock needs around itself: armed, its cause not there, its effects still to come or to stay. */
const neededStates = (book: Book, interlock: Interlock): ReadonlyMap<SignalId, number> => {
  const needed = new Map<SignalId, number>();
  const machine = book.machines[interlock.machine];
  const shown = machine === undefined ? [] : shows(machine);
  const starts = isStart(book, interlock);
  for (const { becomes, signal } of interlock.effects) {
    // Before a start neither command nor feedback is there, whatever stops them afterwards.
    if (starts && shown.some((one) => one.signal === signal)) continue;
    if (becomes.kind === 'state') needed.set(signal, otherState(becomes.state));
    if (becomes.kind === 'stays') needed.set(signal, becomes.state);
  }
  for (const cause of absentOf(interlock.cause)) {
    if (cause.kind === 'contact') needed.set(cause.signal, otherState(cause.state));
  }
  for (const { signal, state } of interlock.armed.when) needed.set(signal, state);
  return needed;
};

/** A machine is at rest where what shows that it runs must be otherwise. */
const isStopped = (machine: Machine, needed: ReadonlyMap<SignalId, number>): boolean =>
  shows(machine).some(({ signal, state }) => (needed.get(signal) ?? state) !== state);

const standing = (book: Book, machine: Machine, needed: ReadonlyMap<SignalId, number>): readonly Line[] => {
  const states = shows(machine)
    .filter(({ signal }) => !needed.has(signal))
    .map(({ signal, state }) => ({ ...healthyLine(book, signal), start: otherState(state) }));
  const turning = new Set<SignalId>([
    ...(machine.motions ?? []),
    ...machine.normals.map(({ signal }) => signal),
  ]);
  const still = [...turning].map((signal) => ({ ...healthyLine(book, signal), start: 0, moves: [] }));
  return [...states, ...still];
};

/** A value on the healthy side of a level, where the usual one is not. */
const clearLine = (book: Book, cause: Cause & { kind: 'level' }): Line | undefined => {
  const line = healthyLine(book, cause.signal);
  const clears = levelAt(cause.clears, referencesOf(book, cause.signal));
  if (clears === undefined || book.signals[cause.signal]?.address.kind === 'derived') return undefined;
  const beyond = cause.side === 'below' ? clears.high * 1.1 : clears.low * 0.5;
  const clear = cause.side === 'below' ? line.start >= clears.high : line.start <= clears.low;
  return clear ? undefined : { ...line, start: beyond };
};

export interface World {
  readonly rest: Rest;
  /** What is otherwise than usual. */
  readonly lines: readonly Line[];
}

/** The plant as an interlock needs it: its machine runs, or stands, as the interlock asks before it can act. */
export const worldOf = (book: Book, interlock: Interlock): World => {
  const needed = neededStates(book, interlock);
  const lines = new Map<SignalId, Line>();
  const put = (line: Line): void => {
    lines.set(line.signal, line);
  };
  for (const [signal, state] of needed) put({ ...healthyLine(book, signal), start: state });
  for (const machine of book.machines) {
    if (isStopped(machine, needed)) for (const line of standing(book, machine, needed)) put(line);
  }
  for (const cause of absentOf(interlock.cause)) {
    const line = cause.kind === 'level' && !lines.has(cause.signal) ? clearLine(book, cause) : undefined;
    if (line !== undefined) put(line);
  }
  return { rest: (signal) => lines.get(signal) ?? healthyLine(book, signal), lines: [...lines.values()] };
};
