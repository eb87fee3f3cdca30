import { SECOND } from '../measure/index.ts';
import type { Machine } from '../rulebook/index.ts';
import { nameOf } from './scene.ts';
import type { Contradiction } from './standing.ts';
import type { State } from './state.ts';
import { runNow } from './track.ts';

/** A bypass that has lasted for longer than it may. */
export const bypassContradictions = (
  state: State,
  machine: Machine,
  say: (found: Contradiction) => void,
): void => {
  const limit = machine.bypassLimit;
  if (limit === undefined) return;
  for (const { signal, state: active } of machine.bypasses) {
    const track = state.scene.tracks[signal];
    const run = track && runNow(track);
    const over = run?.state === active && run.lastEarliest - run.from > limit;
    const params = { signal: nameOf(state.scene, signal), hours: limit / SECOND / 3_600 };
    const reason = { code: 'bypass-too-long', params };
    say({ key: `bypass ${signal}`, holds: over, machine: machine.index, dangerous: true, reason });
  }
};
