import { SECOND } from '../measure/index.ts';
import type { Machine } from '../rulebook/index.ts';
import { rowAt } from './rows.ts';
import { nameOf } from './scene.ts';
import type { Contradiction } from './standing.ts';
import type { State } from './state.ts';
import { historyOf } from './track.ts';

/** A change that was recorded this long before it was seen counts as recorded. Common practice, no source. */
const RECORDED = 600 * SECOND;

/** A set point, timer or learned normal changed, and nobody had recorded that it would. */
export const settingContradictions = (
  state: State,
  machine: Machine,
  say: (found: Contradiction) => void,
): void => {
  for (const signal of machine.constants ?? []) {
    const track = state.scene.tracks[signal];
    if (!state.turn.signals.has(signal) || track === undefined || track.absent !== undefined) continue;
    const now = track.last;
    const rows = historyOf(track);
    const before = rows.length < 2 ? state.standing.settings.get(signal) : rowAt(rows, rows.length - 2);
    state.standing.settings.delete(signal);
    if (now === undefined || before === undefined) continue;
    const differs = now.low > before.high || now.high < before.low;
    const told = (state.standing.recordedAt[machine.index] ?? 0) >= now.earliest - RECORDED;
    const params = { signal: nameOf(state.scene, signal), to: { low: now.low, high: now.high } };
    const reason = { code: 'setting-unrecorded', params };
    say({
      key: `setting ${signal}`,
      holds: differs && !told,
      machine: machine.index,
      dangerous: false,
      reason,
    });
  }
};
