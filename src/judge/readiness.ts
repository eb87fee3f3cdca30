import type { Micros, Reason } from '../measure/index.ts';
import type { Condition, Interlock } from '../rulebook/index.ts';
import type { Scene } from './scene.ts';
import type { Case } from './state.ts';
import { heldSince, runNow, type Track } from './track.ts';

/** What an interlock waits for before a trial counts. `blocking` keeps a trial from beginning. */
export interface Waits {
  readonly blocking: readonly Reason[];
  readonly advice: readonly Reason[];
}

const inSeconds = (micros: Micros): number => Math.ceil(micros / 100_000) / 10;

const waitsForArming = (scene: Scene, interlock: Interlock, now: number): Reason[] =>
  interlock.armed.when.flatMap(({ signal, state }): Reason[] => {
    const track = scene.tracks[signal];
    const held = track && heldSince(track, state);
    const name = scene.book.signals[signal]?.name ?? '';
    if (held !== undefined && now - held >= interlock.armed.after) return [];
    if (track?.last === undefined || track.absent) {
      return [{ code: 'no-reading', params: { signal: name, absence: track?.absent?.why ?? 'not-polled' } }];
    }
    const remaining = held === undefined ? interlock.armed.after : interlock.armed.after - (now - held);
    return [
      {
        code: 'not-armed',
        params: {
          signal: name,
          state: scene.book.signals[signal]?.states[state] ?? '',
          remaining: inSeconds(remaining),
        },
      },
    ];
  });

const waitsForNormal = (scene: Scene, one: Case): Reason[] => {
  const { interlock } = one;
  const normal = scene.normalOf(interlock);
  if (one.follower.levelled) return [];
  const signal = scene.book.signals[interlock.cause.signal]?.name ?? '';
  const spread = normal?.spread;
  if (normal?.normal.from.kind === 'learned' && spread !== undefined) {
    const allowed = normal.normal.from.steady;
    return [{ code: 'normal-unsteady', params: { signal, spread, allowed } }];
  }
  return [{ code: 'normal-unknown', params: { signal } }];
};

/** Since when the cause has been clear is kept by the caller; here only whether that is long enough. */
const waitsForCause = (scene: Scene, { interlock, clearSince }: Case, now: number): Reason[] => {
  const track = scene.tracks[interlock.cause.signal];
  const signal = scene.book.signals[interlock.cause.signal]?.name ?? '';
  if (track?.last === undefined || track.absent) {
    return [{ code: 'no-reading', params: { signal, absence: track?.absent?.why ?? 'not-polled' } }];
  }
  if (clearSince === undefined) {
    const { low, high } = track.last;
    return [{ code: 'cause-not-clear', params: { signal, value: { low, high } } }];
  }
  const remaining = interlock.baseline - (now - clearSince);
  return remaining > 0 ? [{ code: 'baseline-settling', params: { remaining: inSeconds(remaining) } }] : [];
};

const active = (scene: Scene, code: string, conditions: readonly Condition[]): Reason[] =>
  conditions.flatMap(({ signal, state }) => {
    const track = scene.tracks[signal];
    if (track === undefined || runNow(track)?.state !== state) return [];
    return [{ code, params: { signal: scene.book.signals[signal]?.name ?? '' } }];
  });

const isThere = (scene: Scene, signal: number, state: number): boolean => {
  const track = scene.tracks[signal];
  return track !== undefined && runNow(track)?.state === state;
};

const effectsThere = (scene: Scene, interlock: Interlock): Reason[] =>
  interlock.effects.flatMap(({ signal, becomes, name }) =>
    becomes.kind === 'state' && isThere(scene, signal, becomes.state)
      ? [{ code: 'effect-already-there', params: { effect: name } }]
      : [],
  );

/** Every effect that could be tested was there already when the cause was last seen: what came since may follow from it. */
const nothingLeft = (scene: Scene, { effects, cause }: Interlock): boolean => {
  const seen = scene.tracks[cause.signal]?.newsEarliest ?? Number.NEGATIVE_INFINITY;
  let testable = 0;
  let there = 0;
  for (const { signal, becomes } of effects) {
    if (becomes.kind !== 'state') continue;
    testable += 1;
    const since = scene.tracks[signal]?.runs.at(-1)?.from ?? Number.NEGATIVE_INFINITY;
    if (isThere(scene, signal, becomes.state) && since <= seen) there += 1;
  }
  return testable > 0 && there === testable;
};

/** A lost answer or two, for no longer than the signal may go without news: that widens intervals, and unarms nothing. */
const isBriefly = (track: Track | undefined): boolean =>
  track?.absent !== undefined && track.absent.to - track.absent.from <= track.def.agedAfter;

const lastHeld = (track: Track, state: number): number | undefined => {
  const run = track.runs.at(-1);
  return run?.state === state ? run.from : undefined;
};

/** Nothing keeps a trial from beginning: the same as `blocking` being empty, without the words. */
export const isReady = (scene: Scene, one: Case, now: number): boolean => {
  const { interlock, clearSince } = one;
  if (clearSince === undefined || now - clearSince < interlock.baseline) return false;
  if (one.follower.position === undefined && !isBriefly(scene.tracks[interlock.cause.signal])) return false;
  for (const { signal, state } of interlock.armed.when) {
    const track = scene.tracks[signal];
    const held = track && (isBriefly(track) ? lastHeld(track, state) : heldSince(track, state));
    if (held === undefined || now - held < interlock.armed.after) return false;
  }
  return one.follower.levelled && !nothingLeft(scene, interlock);
};

export const waitsOf = (scene: Scene, one: Case, now: number): Waits => {
  const { interlock } = one;
  const machine = scene.book.machines[interlock.machine];
  const there = effectsThere(scene, interlock);
  const allThere = nothingLeft(scene, interlock);
  return {
    blocking: [
      ...waitsForArming(scene, interlock, now),
      ...waitsForCause(scene, one, now),
      ...waitsForNormal(scene, one),
      ...(allThere ? there : []),
    ],
    advice: [
      ...(allThere ? [] : there),
      ...active(scene, 'trip-latched', machine?.tripped ?? []),
      ...active(scene, 'stop-active', machine?.stops ?? []),
      ...active(scene, 'bypass-active', machine?.bypasses ?? []),
      ...active(scene, 'force-active', machine?.forces ?? []),
      ...active(scene, 'horn-silenced', machine?.silences ?? []),
    ],
  };
};
