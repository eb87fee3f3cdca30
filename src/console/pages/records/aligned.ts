import type { Rows } from '../../../api/index.ts';
import type { Interval } from '../../../measure/index.ts';
import type { PlotBand } from '../../plot/model.ts';
import { createSeries, takeRows } from '../../plot/series.ts';
import { changesOf, summaryOf } from '../../plot/summary.ts';

export type Align = 'trip' | 'begin';

interface Tried {
  readonly trial: {
    readonly from: number;
    readonly to: number;
    readonly effects: readonly { readonly from?: number; readonly to?: number }[];
  };
  readonly setPoint: Interval | undefined;
  /** Its trace; the cause is the first signal of it. */
  readonly rows: Rows;
  readonly isState: boolean;
}

const middle = (after: number, until: number): number => (after + until) / 2;

/**
 * Second at which the cause went past its set point, or changed its state; where it cannot be told, when the first
 * effect came; where none did, when the trial began.
 */
const tripOf = ({ trial, setPoint, rows, isState }: Tried): number => {
  const cause = createSeries();
  takeRows([cause], rows, 0);
  const { from, to } = trial;
  if (isState) {
    const change = changesOf(cause, from, to)[1];
    if (change !== undefined) return middle(change.after, change.until);
  } else if (setPoint !== undefined) {
    const band: PlotBand = { signal: '', kind: 'set-point', level: setPoint };
    const [first] = summaryOf(cause, from, to, band).crossings;
    if (first !== undefined) return middle(first.after, first.until);
  }
  const came = trial.effects.flatMap((one) =>
    one.from === undefined || one.to === undefined ? [] : [middle(one.from, one.to)],
  );
  return came.length === 0 ? from : Math.min(...came);
};

/** Seconds by which the second trial is moved, so that both are at the same place where they are compared. */
export const shiftOf = (first: Tried, second: Tried, align: Align): number =>
  align === 'trip' ? tripOf(first) - tripOf(second) : first.trial.from - second.trial.from;
