import type { Micros, Reason } from '../measure/index.ts';
import type { Condition, Interlock } from '../rulebook/index.ts';
import { positionOf } from './cause.ts';
import { edgesNow, type Scene } from './scene.ts';
import { heldSince, runNow } from './track.ts';

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

const waitsForNormal = (scene: Scene, interlock: Interlock): Reason[] => {
  const normal = scene.normalOf(interlock);
  if (interlock.cause.kind !== 'level') return [];
  if (edgesNow(scene, interlock) !== undefined) return [];
  const signal = scene.book.signals[interlock.cause.signal]?.name ?? '';
  const spread = normal?.spread;
  if (normal?.normal.from.kind === 'learned' && spread !== undefined) {
    const allowed = normal.normal.from.steady;
    return [{ code: 'normal-unsteady', params: { signal, spread, allowed } }];
  }
  return [{ code: 'normal-unknown', params: { signal } }];
};

/** Since when the cause has been clear is kept by the caller; here only whether that is long enough. */
const waitsForCause = (
  scene: Scene,
  interlock: Interlock,
  clearSince: number | undefined,
  now: number,
): Reason[] => {
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

const effectsThere = (scene: Scene, interlock: Interlock): Reason[] =>
  interlock.effects.flatMap((effect) => {
    const track = scene.tracks[effect.signal];
    if (track === undefined || effect.becomes.kind !== 'state') return [];
    return runNow(track)?.state === effect.becomes.state
      ? [{ code: 'effect-already-there', params: { effect: effect.name } }]
      : [];
  });

export const waitsOf = (
  scene: Scene,
  interlock: Interlock,
  clearSince: number | undefined,
  now: number,
): Waits => {
  const machine = scene.book.machines[interlock.machine];
  const there = effectsThere(scene, interlock);
  const testable = interlock.effects.filter((effect) => effect.becomes.kind === 'state').length;
  const allThere = there.length > 0 && there.length >= testable;
  return {
    blocking: [
      ...waitsForArming(scene, interlock, now),
      ...waitsForCause(scene, interlock, clearSince, now),
      ...waitsForNormal(scene, interlock),
      ...(allThere ? there : []),
    ],
    advice: [
      ...(allThere ? [] : there),
      ...active(scene, 'trip-latched', machine?.tripped ?? []),
      ...active(scene, 'stop-active', machine?.stops ?? []),
      ...active(scene, 'bypass-active', machine?.bypasses ?? []),
      ...active(scene, 'force-active', machine?.forces ?? []),
    ],
  };
};

/** Where the cause is, for an interlock that waits. */
export const clearNow = (scene: Scene, interlock: Interlock): boolean | undefined => {
  const track = scene.tracks[interlock.cause.signal];
  if (track === undefined) return undefined;
  return positionOf(interlock.cause, track, edgesNow(scene, interlock))?.clear;
};
