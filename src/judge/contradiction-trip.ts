import { SECOND } from '../measure/index.ts';
import type { Machine } from '../rulebook/index.ts';
import { nameOf } from './scene.ts';
import type { Contradiction } from './standing.ts';
import type { State } from './state.ts';
import { couldHaveBeen, mayHideAPress } from './track.ts';

/** A button may be pressed this long before it is seen to act. Common practice, no source. */
const PRESS = SECOND;

/** Some button of the list may have been pressed in the span. */
const pressedIn = (
  state: State,
  buttons: Machine['resets'],
  from: number,
  to: number,
  begun = Number.NEGATIVE_INFINITY,
): boolean =>
  buttons.some(({ signal, state: active }) => {
    const track = state.scene.tracks[signal];
    if (track === undefined || mayHideAPress(track)) return true;
    if (!couldHaveBeen(track, active, from, to)) return false;
    return track.runs.some((run) => run.state === active && run.from > begun && run.after < to);
  });

/** When a button was last pressed since an instant: after the returned one. */
const lastPress = (state: State, buttons: Machine['resets'], since: number): number | undefined => {
  const presses = buttons.flatMap(({ signal, state: active }) => {
    const run = state.scene.tracks[signal]?.runs.findLast((one) => one.state === active && one.from > since);
    return run === undefined ? [] : [run.after];
  });
  return presses.length === 0 ? undefined : Math.max(...presses);
};

/** A trip that went away although nobody reset it, and a machine that runs again although nobody started it. */
export const tripContradictions = (
  state: State,
  machine: Machine,
  say: (found: Contradiction) => void,
): void => {
  const { tracks } = state.scene;
  for (const { signal, state: active } of machine.tripped) {
    const runs = tracks[signal]?.runs ?? [];
    const now = runs.at(-1);
    const before = runs.at(-2);
    const trip = runs.findLast((run) => run.state === active);
    if (now !== undefined && state.turn.signals.has(signal) && machine.resets.length > 0) {
      const gone = now.state !== active && before?.state === active;
      const reset = gone && pressedIn(state, machine.resets, before.after - PRESS, now.from);
      const params = { signal: nameOf(state.scene, signal) };
      const reason = { code: 'trip-gone-without-reset', params };
      say({ key: `reset ${signal}`, holds: gone && !reset, machine: machine.index, dangerous: true, reason });
    }
    if (trip === undefined || !Number.isFinite(trip.after) || machine.starts.length === 0) continue;
    for (const { signal: command, state: run } of machine.running) {
      const started = tracks[command]?.runs.at(-1);
      if (!state.turn.signals.has(command) || started === undefined || started.state !== run) continue;
      const since = started.after > trip.after;
      // A start that was pressed before the reset, and held, starts nothing.
      const from = lastPress(state, machine.resets, trip.after) ?? trip.after;
      const pressed = pressedIn(state, machine.starts, trip.after, started.from, from);
      const reason = { code: 'ran-again-without-start', params: { signal: nameOf(state.scene, command) } };
      say({
        key: `start ${command}`,
        holds: since && !pressed,
        machine: machine.index,
        dangerous: true,
        reason,
      });
    }
  }
};
