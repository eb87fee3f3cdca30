import { lessThan } from '../measure/index.ts';
import type { Effect, Interlock } from '../rulebook/index.ts';
import { protects } from './protects.ts';
import { nameOf } from './scene.ts';
import type { Contradiction } from './standing.ts';
import type { Case, State } from './state.ts';
import { couldHaveBeen, heldSince, runNow } from './track.ts';

/** Since when the interlock has been armed for as long as it asks; undefined: it is not, or nobody can tell. */
const armedSince = (state: State, { armed }: Interlock): number | undefined => {
  let since = Number.NEGATIVE_INFINITY;
  for (const { signal, state: wanted } of armed.when) {
    const track = state.scene.tracks[signal];
    const held = track && heldSince(track, wanted);
    if (held === undefined) return undefined;
    since = Math.max(since, held + armed.after);
  }
  return since;
};

/** The reading up to which the effect is certainly not there; undefined: it is, or nobody can tell. */
const missingUntil = (state: State, { signal, becomes }: Effect): number | undefined => {
  const track = state.scene.tracks[signal];
  const run = track && runNow(track);
  if (run === undefined || becomes.kind !== 'state' || Number.isNaN(run.state)) return undefined;
  return run.state === becomes.state ? undefined : run.lastEarliest;
};

const bypassed = (state: State, { machine: index }: Interlock, since: number): boolean => {
  const machine = state.scene.book.machines[index];
  return (machine?.bypasses ?? []).some(({ signal, state: active }) => {
    const track = state.scene.tracks[signal];
    return track === undefined || couldHaveBeen(track, active, since, state.now);
  });
};

const keyOf = (interlock: number): string => `effect ${interlock}`;

const contradictionOf = (
  state: State,
  { id, name, machine, cause }: Interlock,
  holds: boolean,
  code: string,
  more: Readonly<Record<string, string>> = {},
): Contradiction => {
  const params = { interlock: name, signal: nameOf(state.scene, cause.signal), ...more };
  return { key: keyOf(id), machine, interlock: id, dangerous: true, holds, reason: { code, params } };
};

/**
 * The cause is certainly there, the interlock is armed and not bypassed, and what should protect has not come: nothing
 * at all, or the alarm without the stop. This is announced at once: people rely on a protection that is not there.
 */
export const effectContradictions = (state: State, one: Case, say: (found: Contradiction) => void): void => {
  const { interlock, follower } = one;
  const { position } = follower;
  const { active } = state.standing;
  if (position?.certain !== true || position.reachedBy === undefined || interlock.cause.kind === 'band') {
    // Nearly always nothing holds: this is looked at with each reading of each cause.
    if (active.size > 0 && active.has(keyOf(interlock.id)))
      say(contradictionOf(state, interlock, false, 'cause-without-effect'));
    return;
  }
  const armed = armedSince(state, interlock);
  const cause = state.scene.tracks[interlock.cause.signal];
  if (armed === undefined || cause === undefined) return;
  const since = Math.max(position.reachedBy, armed);
  const wanted = interlock.effects.filter((effect) => protects(state.scene.book, effect));
  const missing = wanted.filter((effect) => missingUntil(state, effect) !== undefined);
  const late = missing.filter((effect) =>
    lessThan(since + effect.within, Math.min(cause.newsEarliest, missingUntil(state, effect) ?? 0)),
  );
  if (late.length === 0 || bypassed(state, interlock, since)) return;
  const [first] = late;
  const none = missing.length === wanted.length;
  const code = none ? 'cause-without-effect' : 'effect-left-out';
  say(contradictionOf(state, interlock, true, code, { effect: first?.name ?? '' }));
};
