import { lessThan, SECOND } from '../measure/index.ts';
import type { Machine } from '../rulebook/index.ts';
import { nameOf } from './scene.ts';
import type { Contradiction } from './standing.ts';
import type { State } from './state.ts';
import { runNow, valueNow } from './track.ts';

/** A contactor or drive follows its command within this. Common practice, no source. */
const FOLLOWS = 3 * SECOND;
/** A machine coasts to standstill within this where nothing else is declared. Common practice, no source. */
const COASTS = 30 * SECOND;
/** Slower than this share of its nameplate a shaft counts as standing. */
const STANDS = 0.05;

/** Since when the machine has certainly not been commanded to run; undefined: it may be. */
const stoppedSince = (state: State, machine: Machine): number | undefined => {
  let since = Number.NEGATIVE_INFINITY;
  for (const { signal, state: run } of machine.running) {
    const track = state.scene.tracks[signal];
    const now = track && runNow(track);
    if (now === undefined || Number.isNaN(now.state) || now.state === run) return undefined;
    since = Math.max(since, now.from);
  }
  return Number.isFinite(since) ? since : undefined;
};

/** The command is off, and the motor or a shaft goes on: a welded contact, a drive in local, a wrong output. */
export const motionContradictions = (
  state: State,
  machine: Machine,
  say: (found: Contradiction) => void,
): void => {
  const since = stoppedSince(state, machine);
  for (const { signal, state: running } of machine.feedbacks ?? []) {
    const track = state.scene.tracks[signal];
    const run = track && runNow(track);
    const on = since !== undefined && run?.state === running && run.lastEarliest - since > FOLLOWS;
    const reason = { code: 'runs-without-command', params: { signal: nameOf(state.scene, signal) } };
    say({ key: `feedback ${signal}`, holds: on, machine: machine.index, dangerous: true, reason });
  }
  for (const signal of machine.motions ?? []) {
    const plate = machine.normals.find((one) => one.signal === signal)?.nameplate?.low;
    const row = valueNow(state.scene.tracks[signal]);
    if (row === undefined || plate === undefined) continue;
    const within = machine.stopsWithin ?? COASTS;
    const on = since !== undefined && row.earliest - since > within && lessThan(plate * STANDS, row.low);
    const reason = { code: 'runs-without-command', params: { signal: nameOf(state.scene, signal) } };
    say({ key: `motion ${signal}`, holds: on, machine: machine.index, dangerous: true, reason });
  }
};
