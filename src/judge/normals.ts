import type { Interval } from '../measure/index.ts';
import type { Condition, Machine, Normal, References } from '../rulebook/index.ts';
import { highAt, latestAt, lowAt } from './rows.ts';
import { heldSince, historyOf, type Track, valueNow } from './track.ts';

/** The running value that percentages of a signal refer to. */
export interface NormalState {
  readonly normal: Normal;
  readonly machine: Machine;
  /** Learned once in a window, from the first steady span; it then stands for the window. */
  learned?: Interval;
  /** Learned before a restart: what is learned after it counts together with it, since nobody saw whether it moved. */
  before?: Interval;
  /** Spread of the last look, as a fraction of the value; for what the interlock waits for. */
  spread?: number;
  /** What percentages refer to now; the same object as long as nothing changes. */
  references: References;
}

const plateOf = ({ nameplate }: Normal): References => (nameplate ? { nameplate } : {});

export const newNormal = (normal: Normal, machine: Machine): NormalState => ({
  normal,
  machine,
  references: {
    ...(normal.from.kind === 'declared' && { normal: normal.from.value }),
    ...plateOf(normal),
  },
});

/** A new window learns anew. */
export const forgetLearned = (state: NormalState): void => {
  if (state.normal.from.kind !== 'learned') return;
  delete state.learned;
  delete state.before;
  state.references = plateOf(state.normal);
};

const runningFor = (conditions: readonly Condition[], tracks: readonly Track[], now: number): number => {
  let since = Number.NEGATIVE_INFINITY;
  for (const { signal, state } of conditions) {
    const track = tracks[signal];
    const held = track && heldSince(track, state);
    if (held === undefined) return -1;
    since = Math.max(since, held);
  }
  return now - since;
};

/** Looks whether the last `over` were steady while the machine ran; takes the hull of the readings as normal. */
export const learn = (state: NormalState, tracks: readonly Track[]): void => {
  const { from, signal } = state.normal;
  if (from.kind !== 'learned' || state.learned !== undefined) return;
  const track = tracks[signal];
  const rows = track && historyOf(track);
  if (rows === undefined || rows.length === 0) return;
  const newest = latestAt(rows, rows.length - 1);
  if (runningFor(state.machine.running, tracks, newest) < from.over) return;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let index = rows.length - 1; index >= 0; index -= 1) {
    low = Math.min(low, lowAt(rows, index));
    high = Math.max(high, highAt(rows, index));
    const middle = (lowAt(rows, index) + highAt(rows, index)) / 2;
    least = Math.min(least, middle);
    most = Math.max(most, middle);
    if (newest - latestAt(rows, index) < from.over) continue;
    state.spread = most > 0 ? (most - least) / most : 1;
    if (low > 0 && state.spread <= from.steady) {
      const { before = { low, high } } = state;
      state.learned = { low: Math.min(low, before.low), high: Math.max(high, before.high) };
      state.references = { normal: state.learned, ...plateOf(state.normal) };
    }
    return;
  }
};

/** What percentages refer to now. A tag that has no value is not known. */
export const referencesOf = (state: NormalState, tracks: readonly Track[]): References => {
  const { from } = state.normal;
  if (from.kind !== 'tag') return state.references;
  const row = valueNow(tracks[from.signal]);
  const known = state.references.normal;
  const normal = row !== undefined && row.low > 0 ? row : undefined;
  if (known?.low === normal?.low && known?.high === normal?.high) return state.references;
  state.references = {
    ...(normal && { normal: { low: normal.low, high: normal.high } }),
    ...plateOf(state.normal),
  };
  return state.references;
};
