import { type Signal, signal } from '@preact/signals';
import { moved, type Reach, showing, type View, whole, zoomed } from './view.ts';

/** What a plot shows and where its cursor is; kept outside of it, so that others can follow and steer. */
export interface PlotState {
  readonly view: Signal<View>;
  /** Seconds after the zero of the plot; undefined: at the newest. */
  readonly cursor: Signal<number | undefined>;
  readonly reach: Signal<Reach>;
  /** Counts up when what stands beside the plot should be told anew: four times a second at most. */
  readonly beat: Signal<number>;
  /** What is on the screen now, also while it follows. */
  shown: { from: number; to: number };
}

export const createPlotState = (reach: Reach, follows: boolean): PlotState => ({
  view: signal<View>({ ...reach, follows }),
  cursor: signal<number | undefined>(undefined),
  reach: signal(reach),
  beat: signal(0),
  shown: { ...reach },
});

/**
 * The view as it is now: one that follows stands where it was drawn last. Any other counts before it is drawn: two
 * fingers move between two pictures.
 */
export const standing = ({ view, shown }: PlotState): View =>
  view.value.follows ? { ...shown, follows: true } : view.value;

export const zoom = (state: PlotState, factor: number, around?: number): void => {
  const now = standing(state);
  const cursor = state.cursor.value;
  const seen = cursor !== undefined && cursor >= now.from && cursor <= now.to;
  const about = around ?? (seen ? cursor : (now.from + now.to) / 2);
  state.view.value = zoomed(now, factor, about, state.reach.value);
};

/** `share`: of the width that is shown. */
export const move = (state: PlotState, share: number): void => {
  const now = standing(state);
  state.view.value = moved(now, share * (now.to - now.from), state.reach.value);
};

export const showAll = (state: PlotState): void => {
  state.view.value = whole(state.reach.value);
};

export const pause = (state: PlotState): void => {
  state.view.value = { ...standing(state), follows: false };
};

/** With the newest at the right edge again. */
export const goOn = (state: PlotState): void => {
  const { from, to } = standing(state);
  const newest = state.reach.value.to;
  state.cursor.value = undefined;
  state.view.value = { from: newest - (to - from), to: newest, follows: true };
};

export const putCursor = (state: PlotState, t: number): void => {
  const { from, to } = state.reach.value;
  const at = Math.min(to, Math.max(from, t));
  state.cursor.value = at;
  if (!state.view.value.follows || at < state.shown.from || at > state.shown.to)
    state.view.value = showing(standing(state), at, state.reach.value);
};

/** By a share of the width that is shown, from the cursor, or from the middle where there is none yet. */
export const moveCursor = (state: PlotState, share: number): void => {
  const { from, to } = standing(state);
  const at = state.cursor.value ?? (state.view.value.follows ? to : (from + to) / 2);
  putCursor(state, at + share * (to - from));
};
