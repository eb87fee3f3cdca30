import type { Reason } from '../measure/index.ts';
import type { Case, State } from './state.ts';
import type { Mark } from './types.ts';

/** Signals whose times are of a source's clock: its own, and those that are worked out from them. */
const timedBy = ({ scene }: State, source: number): ReadonlySet<number> => {
  const found = new Set<number>();
  // A derived signal stands behind those that it is worked out from.
  for (const { id, source: own, address } of scene.book.signals) {
    const inputs = address.kind === 'derived' ? address.from.of : [];
    if (own === source || inputs.some((input) => found.has(input))) found.add(id);
  }
  return found;
};

/** Cases whose trials rest on the clock; all of them on ours. */
const concerned = (state: State, source: number | undefined): readonly Case[] => {
  if (source === undefined) return state.cases;
  const found = new Set<number>();
  for (const signal of timedBy(state, source))
    for (const id of state.watchers.trials[signal] ?? []) found.add(id);
  return state.cases.filter(({ interlock }) => found.has(interlock.id));
};

/**
 * A clock was set: the times of a trial that was running then cannot be set against each other. When exactly it was set
 * is known from `since` on, so that a trial which has ended meanwhile is doubted too.
 */
export const takeClockStep = (state: State, mark: Mark & { code: 'clock-stepped' }): void => {
  const name = mark.source === undefined ? undefined : state.scene.book.sources[mark.source]?.name;
  const params = { by: mark.by / 1_000_000, ...(name !== undefined && { source: name }) };
  const reason: Reason = { code: 'clock-stepped', params };
  for (const one of concerned(state, mark.source)) {
    one.trial?.doubts.set('clock', reason);
    const ended = one.ended.at(-1);
    if (mark.since === undefined || ended === undefined || ended.trial.now <= mark.since) continue;
    one.extra.push({ name: 'attribution', outcome: 'inconclusive', reason });
  }
};
