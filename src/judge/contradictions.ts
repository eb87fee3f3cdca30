import { instant } from '../measure/index.ts';
import type { InterlockId } from '../rulebook/index.ts';
import { alarmContradictions } from './contradiction-alarm.ts';
import { bypassContradictions } from './contradiction-bypass.ts';
import { effectContradictions } from './contradiction-effect.ts';
import { motionContradictions } from './contradiction-motion.ts';
import { outputContradictions } from './contradiction-output.ts';
import { settingContradictions } from './contradiction-setting.ts';
import { tripContradictions } from './contradiction-trip.ts';
import type { Contradiction } from './standing.ts';
import type { State } from './state.ts';

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
