import { instant, type Reading, type Readings, type Reason, type SignalId } from '../measure/index.ts';
import type { InterlockId } from '../rulebook/index.ts';
import { advance, follow } from './cases.ts';
import { watchStanding } from './contradictions.ts';
import { deriveTouched } from './derived.ts';
import { concludeCase, takeMark } from './marks.ts';
import { learn } from './normals.ts';
import type { State } from './state.ts';
import { take } from './track.ts';
import type { Engine, Finding, Input, WindowVerdict } from './types.ts';

/** Raised whenever the same input could give other findings. */
export const ENGINE: Engine = 7;

const ascending = (a: number, b: number): number => a - b;

/** Marks the places of an output that shows another state than when it was last looked at. */
const findChange = ({ scene, turn }: State, signal: number, places: readonly number[]): void => {
  const from = scene.tracks[signal]?.runs.at(-1)?.from;
  if (from === undefined || from === turn.since[signal]) return;
  turn.since[signal] = from;
  for (const place of places) turn.changed.add(place);
};

/** Finds the interlocks whose cause the instant has touched, and all those that must look; was an output among it? */
const findConcerned = (state: State): boolean => {
  const { watchers, running, turn } = state;
  const { caused, concerned, changed } = turn;
  let outputs = false;
  for (const signal of turn.signals.list) {
    for (const id of watchers.causes[signal] ?? []) caused.add(id);
    const places = watchers.outputs[signal] ?? [];
    outputs ||= places.length > 0;
    if (running.size === 0) continue;
    if (places.length > 0) findChange(state, signal, places);
    for (const id of watchers.trials[signal] ?? []) if (running.has(id)) concerned.add(id);
  }
  // Any output may be a cross-trip: every running trial looks.
  if (outputs) for (const id of running) concerned.add(id);
  for (const id of caused.list) concerned.add(id);
  if (concerned.list.length > 1) concerned.list.sort(ascending);
  if (changed.list.length > 1) changed.list.sort(ascending);
  return outputs;
};

/** Judges everything of the last instant. */
const settleInstant = (state: State): void => {
  const { turn, watchers } = state;
  if (turn.signals.list.length === 0) return;
  state.now = state.latest;
  const { tracks } = state.scene;
  deriveTouched(state.derived, tracks, turn.signals);
  for (const signal of turn.signals.list) {
    for (const normal of watchers.normals[signal] ?? []) learn(normal, tracks);
  }
  const outputs = findConcerned(state);
  // All causes first: whose turn comes later in the book may have acted all the same.
  for (const id of turn.caused.list) {
    const one = state.cases[id];
    if (one !== undefined) follow(state, one);
  }
  for (const id of turn.concerned.list) {
    const one = state.cases[id];
    if (one !== undefined) advance(state, one, turn.caused.has(id), outputs);
  }
  watchStanding(state);
  turn.signals.clear();
  turn.caused.clear();
  turn.concerned.clear();
  turn.changed.clear();
};

const takeReadings = (state: State, readings: Readings): void => {
  const { turn, scene, watchers } = state;
  for (let index = 0; index < readings.length; index += 1) {
    const latest = readings.latest[index] ?? 0;
    if (latest !== state.latest) settleInstant(state);
    const signal = readings.signal[index] ?? 0;
    const track = scene.tracks[signal];
    if (track === undefined) continue;
    const before = track.last?.low;
    take(track, readings, index);
    state.latest = latest;
    turn.signals.add(signal);
    if (track.last !== undefined && track.last.low !== before) {
      for (const machine of watchers.heartbeats[signal] ?? []) scene.beats[machine] = latest;
    }
  }
};

/**
 * Takes readings or a mark; returns what there is to say. Changes `state` in place, nothing else. The same
 * findings come out for any chunking of the readings; readings of one instant are judged together, once another
 * instant begins or `until` says that no more of it will come.
 */
export const step = (state: State, input: Input): readonly Finding[] => {
  state.findings = [];
  if ('readings' in input) takeReadings(state, input.readings);
  else if ('until' in input) {
    if (state.latest <= input.until) settleInstant(state);
  } else {
    settleInstant(state);
    takeMark(state, input.mark);
  }
  return state.findings;
};

export interface WaitsNow {
  readonly waits: readonly Reason[];
  /** Number of the trial that runs; 0: none. */
  readonly trial: number;
  /** Nothing keeps a trial from beginning; what it waits for all the same is advice. */
  readonly ready: boolean;
}

/** What each interlock under test waits for now. */
export const waitsNow = (state: State): ReadonlyMap<InterlockId, WaitsNow> =>
  new Map(
    state.cases
      .filter(({ tested }) => tested)
      .map((one) => [
        one.interlock.id,
        { waits: one.trial ? [] : one.waits, trial: one.trial?.number ?? 0, ready: one.ready },
      ]),
  );

/** What the window would say of each interlock under test that has trials, if it were closed without the running one. */
export const verdictsNow = (state: State): ReadonlyMap<InterlockId, WindowVerdict> =>
  new Map(
    state.cases
      .filter(({ tested, ended }) => tested && ended.length > 0)
      .map((one) => [one.interlock.id, concludeCase(state, one)]),
  );

/** Number of trials that run now. */
export const openTrials = (state: State): number => state.running.size;

/** What is known of a signal now, also of one that is worked out from others; undefined before its first reading. */
export const newestOf = (state: State, signal: SignalId): Reading | undefined => {
  const track = state.scene.tracks[signal];
  if (track === undefined || !Number.isFinite(track.newsLatest)) return undefined;
  const at = { earliest: instant(track.newsEarliest), latest: instant(track.newsLatest) };
  const base = { signal, at, response: track.last?.response ?? 0, flags: track.last?.flags ?? 0 };
  if (track.absent !== undefined) return { ...base, absent: track.absent.why };
  const { low = 0, high = 0 } = track.last ?? {};
  return { ...base, value: { low, high } };
};
