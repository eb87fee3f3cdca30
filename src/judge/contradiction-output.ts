import { SECOND } from '../measure/index.ts';
import type { Book, Interlock, Machine } from '../rulebook/index.ts';
import { longestDelay } from './aspect.ts';
import { protects } from './protects.ts';
import { nameOf } from './scene.ts';
import type { Contradiction } from './standing.ts';
import type { State } from './state.ts';
import { couldHaveBeen, mayHideAPress, type Run } from './track.ts';

/** A cause that has gone for longer explains nothing. Common practice, no source. */
const LINGERS = 5 * SECOND;

/** To run again, or to fall silent, needs no cause; what protects does. */
const lists = (book: Book, interlock: Interlock, signal: number, state: number): boolean =>
  interlock.effects.some(
    (effect) =>
      effect.signal === signal &&
      effect.becomes.kind === 'state' &&
      effect.becomes.state === state &&
      protects(book, effect),
  );

/** The cause may have been there recently enough to have brought a change about. */
const mayHaveActed = (state: State, interlock: Interlock, run: Run): boolean => {
  const one = state.cases[interlock.id];
  return one === undefined || one.possibleUntil >= run.after - longestDelay(interlock) - LINGERS;
};

/** A person's stop explains a command that drops; where no stop can be read, nothing is said of it. */
const byHand = (state: State, machine: Machine, signal: number, run: Run): boolean => {
  if (!machine.running.some((one) => one.signal === signal)) return false;
  if (machine.stops.length === 0) return true;
  return machine.stops.some(({ signal: stop, state: pressed }) => {
    const track = state.scene.tracks[stop];
    return (
      track === undefined ||
      mayHideAPress(track) ||
      couldHaveBeen(track, pressed, run.after - LINGERS, run.from)
    );
  });
};

/** An interlock of another machine that may be acting now, and does not list this output. */
const elsewhere = (state: State, machine: Machine, run: Run): Interlock | undefined =>
  state.scene.book.interlocks.find((interlock) => {
    if (interlock.machine === machine.index) return false;
    const position = state.cases[interlock.id]?.follower.position;
    return position?.certain === true && (position.reachedBy ?? run.from) <= run.from;
  });

/**
 * An output acted, and no cause that lists it can have been there: without a cause, before its cause reached the set
 * point, or on another machine than the one where the cause is. The cause-and-effect sheet is the expected set.
 */
export const outputContradictions = (
  state: State,
  machine: Machine,
  say: (found: Contradiction) => void,
): void => {
  const { book, tracks } = state.scene;
  for (const signal of machine.outputs) {
    if (!state.turn.signals.has(signal)) continue;
    const run = tracks[signal]?.runs.at(-1);
    if (run === undefined || run.lastLatest !== run.from || !Number.isFinite(run.after)) continue;
    const listing = book.interlocks.filter((interlock) => lists(book, interlock, signal, run.state));
    const key = `output ${signal}`;
    const unexplained =
      listing.length > 0 &&
      !listing.some((interlock) => mayHaveActed(state, interlock, run)) &&
      !byHand(state, machine, signal, run);
    const other = unexplained ? elsewhere(state, machine, run) : undefined;
    const shown = tracks[signal]?.def.states[run.state] ?? String(run.state);
    const params = { signal: nameOf(state.scene, signal), state: shown };
    say({
      key,
      holds: unexplained,
      machine: machine.index,
      dangerous: other !== undefined,
      reason:
        other === undefined
          ? { code: 'acted-without-cause', params }
          : { code: 'acted-on-other-machine', params: { ...params, interlock: other.name } },
    });
  }
};
