/** Takes one row of a signal: time, bounds, and the stored index of the reason why there is no value (0: there is one). */
export type TakeRow = (t: number, low: number, high: number, why: number) => void;

/** Rows of one signal thinned out while they come, in order of time. Allocates nothing for a row. */
export interface Thinner {
  readonly take: TakeRow;
  /** What is held back of the newest rows, without ending it. */
  pending(to: TakeRow): void;
  /** Hands on what is held back: the next row begins anew. */
  flush(): void;
}

export interface Thinning {
  /** Width of a column, in the unit of `t`. */
  readonly column: number;
  /** A state, or a text's code: every change of it is kept where it was. */
  readonly stepped: boolean;
}

const [FIRST, LEAST, GREATEST, LAST] = [0, 1, 2, 3] as const;

/**
 * Of a measured value each column keeps four rows as they were: the first, the one with the least `low`, the one with the
 * greatest `high`, and the last. Of a state and of an absence the first and last row of each unbroken run are kept. So
 * what is left out lies within what is kept of its column, and no change and no absence is moved or lost.
 */
export const createThinner = ({ column, stepped }: Thinning, keep: TakeRow): Thinner => {
  const t = new Float64Array(4);
  const low = new Float64Array(4);
  const high = new Float64Array(4);
  /** Which row of the run each of the four is. */
  const order = new Int32Array(4);
  let count = 0;
  let reason = 0;
  let cell = 0;

  const put = (place: number, at: number, least: number, most: number): void => {
    t[place] = at;
    low[place] = least;
    high[place] = most;
    order[place] = count;
  };
  const give = (place: number, to: TakeRow): void =>
    to(t[place] as number, low[place] as number, high[place] as number, reason);

  const pending = (to: TakeRow): void => {
    if (count === 0) return;
    give(FIRST, to);
    const last = order[LAST] as number;
    const early = (order[LEAST] as number) < (order[GREATEST] as number) ? LEAST : GREATEST;
    const late = early === LEAST ? GREATEST : LEAST;
    const [between, after] = [order[early] as number, order[late] as number];
    if (between > 0 && between < last) give(early, to);
    if (after > between && after < last) give(late, to);
    if (last > 0) give(LAST, to);
  };

  const flush = (): void => {
    pending(keep);
    count = 0;
  };

  const goesOn = (at: number, least: number, most: number, why: number): boolean => {
    if (why !== reason) return false;
    if (why !== 0) return true;
    if (stepped) return least === low[LAST] && most === high[LAST];
    return Math.floor(at / column) === cell;
  };

  return {
    take(at, least, most, why) {
      if (count > 0 && !goesOn(at, least, most, why)) flush();
      if (count === 0) {
        reason = why;
        cell = Math.floor(at / column);
        put(FIRST, at, least, most);
        put(LEAST, at, least, most);
        put(GREATEST, at, least, most);
      } else {
        if (least < (low[LEAST] as number)) put(LEAST, at, least, most);
        if (most > (high[GREATEST] as number)) put(GREATEST, at, least, most);
      }
      put(LAST, at, least, most);
      count += 1;
    },
    pending,
    flush,
  };
};
