import type { Effect, Interlock, Machine } from '../rulebook/index.ts';
import { nested } from './nested.ts';
import { nameOf } from './scene.ts';
import type { Contradiction } from './standing.ts';
import type { State } from './state.ts';
import { runNow } from './track.ts';

const sounds = ({ becomes, class: kind }: Effect): boolean =>
  kind === 'alarm' && becomes.kind === 'state' && becomes.state !== 0;

const shows = (state: State, { signal, becomes }: Effect): boolean | undefined => {
  const track = state.scene.tracks[signal];
  const run = track && runNow(track);
  return run === undefined || becomes.kind !== 'state' ? undefined : run.state === becomes.state;
};

/** The stop came, and none of the alarms that should have come before it. */
const stopWithoutAlarm = (state: State, stop: Interlock, trippedFrom: number): Interlock | undefined =>
  state.scene.book.interlocks.find((alarm) => {
    if (alarm.id === stop.id || alarm.machine !== stop.machine || !nested(stop, alarm)) return false;
    const effects = alarm.effects.filter(sounds);
    const waited = Math.max(...effects.map(({ within }) => within), 0);
    return (
      effects.length > 0 &&
      state.now - trippedFrom > waited &&
      effects.every((effect) => shows(state, effect) === false)
    );
  });

/** A stop without its alarm, and a horn that was told to sound while it was silenced. */
export const alarmContradictions = (
  state: State,
  machine: Machine,
  say: (found: Contradiction) => void,
): void => {
  const { book, tracks } = state.scene;
  for (const { signal, state: active } of machine.tripped) {
    const track = tracks[signal];
    const run = track && runNow(track);
    if (!state.turn.signals.has(signal) || run === undefined || !Number.isFinite(run.after)) continue;
    const acted = book.interlocks.filter(
      (one) =>
        one.machine === machine.index &&
        one.effects.some((effect) => effect.signal === signal) &&
        state.cases[one.id]?.trial?.reached !== undefined,
    );
    const [silent] =
      run.state === active ? acted.flatMap((one) => stopWithoutAlarm(state, one, run.from) ?? []) : [];
    const params = { signal: nameOf(state.scene, signal), interlock: silent?.name ?? '' };
    const reason = { code: 'stop-without-alarm', params };
    say({
      key: `alarm ${signal}`,
      holds: silent !== undefined,
      machine: machine.index,
      dangerous: false,
      reason,
    });
  }
  for (const { signal: silence, state: silenced } of machine.silences ?? []) {
    const quiet = tracks[silence]?.runs.at(-1);
    for (const signal of machine.outputs) {
      const run = tracks[signal]?.runs.at(-1);
      if (
        !state.turn.signals.has(signal) ||
        run === undefined ||
        run.state === 0 ||
        quiet?.state !== silenced
      )
        continue;
      const isAlarm = book.interlocks.some(({ effects }) =>
        effects.some((effect) => effect.signal === signal && sounds(effect)),
      );
      const before = isAlarm && Number.isFinite(run.after) && quiet.from <= run.after;
      const params = { signal: nameOf(state.scene, signal), silence: nameOf(state.scene, silence) };
      const reason = { code: 'alarm-silenced-before', params };
      say({ key: `silence ${signal}`, holds: before, machine: machine.index, dangerous: false, reason });
    }
  }
};
