import { effect } from '@preact/signals';
import type { Rows, TraceNow } from '../../../api/index.ts';
import { clear, type Series, takeRows } from '../../plot/series.ts';
import type { PlotState } from '../../plot/state.ts';
import { ask } from '../../state/api.ts';
import { tracePath } from './paths.ts';

/** A trace on the plot. */
export interface Loaded {
  readonly window: string;
  readonly signals: readonly string[];
  readonly series: readonly Series[];
  /** All of it, thinned out. */
  readonly rows: Rows;
  /** Seconds after its opening that it was asked for. */
  readonly from: number;
  readonly to: number;
  /** Seconds from the zero of the plot to its own. */
  readonly shift: number;
}

export const WIDTH = 1_600;
/** Looked at more closely than this, it is read again more finely. */
const CLOSER = 6;
const WAIT_MS = 250;
/** Of a state every change is kept. */
const MOST_ROWS = 262_144;

export const show = ({ series, shift }: Pick<Loaded, 'series' | 'shift'>, rows: Rows): void => {
  for (const one of series) clear(one);
  takeRows(series, rows, shift, MOST_ROWS);
};

/** Reads what is looked at closely more finely, and goes back to the whole. Returns how to stop. */
export const followDetail = (
  state: PlotState,
  loaded: readonly Loaded[],
  shown: () => void,
): (() => void) => {
  const [first] = loaded;
  if (first === undefined) return () => undefined;
  const all = { from: first.from + first.shift, to: first.to + first.shift };
  let held = all;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let turn = 0;
  const read = async (span: { readonly from: number; readonly to: number }): Promise<void> => {
    turn += 1;
    const own = turn;
    const fine = await Promise.all(
      loaded.map(({ window, signals, shift }) =>
        ask<TraceNow>(
          tracePath({ window, signals, from: span.from - shift, to: span.to - shift, width: WIDTH }),
        ),
      ),
    );
    if (own !== turn) return;
    held = span;
    for (const [place, one] of loaded.entries()) {
      const rows = fine[place]?.rows;
      if (rows !== undefined) show(one, rows);
    }
    shown();
  };
  const look = (): void => {
    const { from, to } = state.view.peek();
    const wide = to - from;
    const within = from >= held.from && to <= held.to;
    if (within && (held.to - held.from) / wide <= CLOSER) return;
    if ((all.to - all.from) / wide > CLOSER) {
      const span = { from: Math.max(all.from, from - wide), to: Math.min(all.to, to + wide) };
      // Where it cannot be read now, what is there stays.
      read(span).catch(() => undefined);
      return;
    }
    if (held === all) return;
    turn += 1;
    held = all;
    for (const one of loaded) show(one, one.rows);
    shown();
  };
  const stop = effect(() => {
    void state.view.value;
    clearTimeout(timer);
    timer = setTimeout(look, WAIT_MS);
  });
  return () => {
    stop();
    clearTimeout(timer);
    turn += 1;
  };
};
