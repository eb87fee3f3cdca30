import type { Interval } from '../../measure/index.ts';
import type { PlotBand } from './model.ts';
import { countUntil, placeOf, type Series } from './series.ts';

/** A signal went certainly past a level: it was on the one side at `from`, on the other at `to`. */
export interface Crossing {
  readonly to: 'below' | 'above';
  readonly after: number;
  readonly until: number;
}

/** What a span of a signal comes down to, in its own unit and in seconds after the zero of the plot. */
export interface Summary {
  readonly least?: Interval & { readonly at: number };
  readonly greatest?: Interval & { readonly at: number };
  readonly last?: Interval;
  readonly crossings: readonly Crossing[];
  /** Spans without a value. */
  readonly gaps: number;
}

const sideOf = (low: number, high: number, level: Interval): 'below' | 'above' | undefined => {
  if (high < level.low) return 'below';
  return low > level.high ? 'above' : undefined;
};

/** Between `from` and `to`. `band`: the level whose crossings are told. */
export const summaryOf = (series: Series, from: number, to: number, band?: PlotBand): Summary => {
  let least: (Interval & { at: number }) | undefined;
  let greatest: (Interval & { at: number }) | undefined;
  let last: Interval | undefined;
  let gaps = 0;
  let absent = false;
  let side: 'below' | 'above' | undefined;
  let sideAt = from;
  const crossings: Crossing[] = [];
  const end = countUntil(series, to);
  for (let row = Math.max(0, countUntil(series, from) - 1); row < end; row += 1) {
    const place = placeOf(series, row);
    const at = series.t[place] as number;
    if (series.why[place] !== 0) {
      if (!absent) gaps += 1;
      absent = true;
      continue;
    }
    absent = false;
    const low = series.low[place] as number;
    const high = series.high[place] as number;
    if (least === undefined || low < least.low) least = { low, high, at };
    if (greatest === undefined || high > greatest.high) greatest = { low, high, at };
    last = { low, high };
    if (band === undefined) continue;
    const own = sideOf(low, high, band.level);
    if (own === undefined) continue;
    if (side !== undefined && own !== side) crossings.push({ to: own, after: sideAt, until: at });
    side = own;
    sideAt = at;
  }
  return {
    ...(least && { least }),
    ...(greatest && { greatest }),
    ...(last && { last }),
    crossings,
    gaps,
  };
};

/** A state that was seen, and between which instants it came. */
export interface StateChange {
  readonly state: number;
  readonly after: number;
  readonly until: number;
}

/** The state at the beginning of a span first, then each change. */
export const changesOf = (series: Series, from: number, to: number): readonly StateChange[] => {
  const changes: StateChange[] = [];
  const end = countUntil(series, to);
  let before = from;
  for (let row = Math.max(0, countUntil(series, from) - 1); row < end; row += 1) {
    const place = placeOf(series, row);
    const at = series.t[place] as number;
    const state = series.low[place] as number;
    const known = series.why[place] === 0 && state === series.high[place];
    if (!known) continue;
    if (changes.at(-1)?.state !== state) changes.push({ state, after: before, until: at });
    before = at;
  }
  return changes;
};
