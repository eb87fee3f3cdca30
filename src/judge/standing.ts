import { instant, type Reason } from '../measure/index.ts';
import type { Book, InterlockId } from '../rulebook/index.ts';
import { alarmContradictions } from './contradiction-alarm.ts';
import { bypassContradictions } from './contradiction-bypass.ts';
import { effectContradictions } from './contradiction-effect.ts';
import { motionContradictions } from './contradiction-motion.ts';
import { outputContradictions } from './contradiction-output.ts';
import { settingContradictions } from './contradiction-setting.ts';
import { tripContradictions } from './contradiction-trip.ts';
import type { State } from './state.ts';

/** What the contradictions remember, which are watched always, window or not. */
export interface Standing {
  /** Newest recorded change of a machine's settings, by machine. */
  readonly recordedAt: number[];
  /** Machines that a signal concerns, by signal. */
  readonly machines: readonly (readonly number[])[];
  /** What stands now, so that each is told once while it lasts. */
  readonly active: Set<string>;
}

export const standingOf = (book: Book): Standing => {
  const machines = book.signals.map((): number[] => []);
  for (const machine of book.machines) {
    const conditions = [
      ...machine.tripped,
      ...machine.running,
      ...machine.bypasses,
      ...machine.resets,
      ...machine.starts,
      ...(machine.silences ?? []),
      ...(machine.feedbacks ?? []),
    ];
    const signals = new Set<number>([
      ...conditions.map(({ signal }) => signal),
      ...machine.outputs,
      ...(machine.motions ?? []),
      ...(machine.constants ?? []),
    ]);
    for (const signal of signals) machines[signal]?.push(machine.index);
  }
  return {
    recordedAt: book.machines.map(() => Number.NEGATIVE_INFINITY),
    machines,
    active: new Set(),
  };
};

/** Somebody recorded a change at the machine. */
export const recorded = (standing: Standing, machine: number | undefined, at: number): void => {
  if (machine !== undefined) standing.recordedAt[machine] = at;
};

/** A contradiction as one of the watchers finds it. `key` tells one from another while it lasts. */
export interface Contradiction {
  readonly key: string;
  /** It stands now. */
  readonly holds: boolean;
  readonly machine: number;
  readonly interlock?: InterlockId;
  readonly dangerous: boolean;
  readonly reason: Reason;
}

const NONE = -1 as InterlockId;

/** Tells a contradiction when it begins. */
const tell = (state: State, found: Contradiction): void => {
  const { active } = state.standing;
  if (!found.holds) {
    active.delete(found.key);
    return;
  }
  if (active.has(found.key)) return;
  active.add(found.key);
  const { machine, reason, dangerous, interlock = NONE } = found;
  const at = instant(state.now);
  state.findings.push({ kind: 'contradiction', at, interlock, trial: 0, machine, reason, dangerous });
};

/** Looks at what the instant has touched: machines by their signals, interlocks by their cause. */
export const watchStanding = (state: State): void => {
  const { scene, standing, turn } = state;
  for (const signal of turn.signals.list) {
    for (const index of standing.machines[signal] ?? []) turn.machines.add(index);
  }
  const say = (found: Contradiction): void => tell(state, found);
  for (const index of turn.machines.list) {
    const machine = scene.book.machines[index];
    if (machine === undefined) continue;
    outputContradictions(state, machine, say);
    tripContradictions(state, machine, say);
    alarmContradictions(state, machine, say);
    motionContradictions(state, machine, say);
    bypassContradictions(state, machine, say);
    settingContradictions(state, machine, say);
  }
  turn.machines.clear();
  for (const id of turn.caused.list) {
    const one = state.cases[id];
    if (one !== undefined) effectContradictions(state, one, say);
  }
};
