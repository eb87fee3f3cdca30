import type { Rows } from '../../api/index.ts';
import { ABSENCES, type Absence, type TakeRow } from '../../measure/index.ts';
import type { Book } from '../../rulebook/index.ts';

/** Of such a signal every change is shown: a state, or a text. */
export const isStepped = ({ states, decoding }: Book['signals'][number]): boolean =>
  states.length > 0 || decoding.as === 'text';

/** Columns of rows as they go out. */
export interface RowsOut {
  /** `signal`: its place among the names that were asked for. */
  put(signal: number, zero: number): TakeRow;
  /** What was put, and begins anew. */
  take(): Rows;
  size(): number;
}

interface Draft {
  signal: number[];
  t: number[];
  low: (number | null)[];
  high: (number | null)[];
  why: (Absence | '')[];
}

const empty = (): Draft => ({ signal: [], t: [], low: [], high: [], why: [] });

const shown = (value: number): number | null => (Number.isFinite(value) ? value : null);

export const createRowsOut = (): RowsOut => {
  let draft = empty();
  return {
    put:
      (signal, zero) =>
      (t, low, high, why): void => {
        draft.signal.push(signal);
        draft.t.push(t - zero);
        draft.low.push(why === 0 ? shown(low) : null);
        draft.high.push(why === 0 ? shown(high) : null);
        draft.why.push(ABSENCES[why] ?? '');
      },
    take() {
      const taken = draft;
      draft = empty();
      return taken;
    },
    size: () => draft.t.length,
  };
};
