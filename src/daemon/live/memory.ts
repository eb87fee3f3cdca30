import { createThinner, MILLISECOND, type Micros, SECOND, type TakeRow } from '../../measure/index.ts';

/** Rows of one signal, the newest so many; columns of a fixed size, the oldest row is written over. */
interface Ring {
  readonly put: TakeRow;
  each(to: TakeRow): void;
  /** Time of the oldest row that is left; undefined where nothing was lost. */
  from(): number | undefined;
}

/** A ring begins small; it doubles until it holds `most`. */
const LEAST_ROWS = 64;

const createRing = (most: number): Ring => {
  let room = Math.min(LEAST_ROWS, most);
  let t = new Float64Array(room);
  let low = new Float64Array(room);
  let high = new Float64Array(room);
  let why = new Uint8Array(room);
  let next = 0;
  let held = 0;
  const widened = (column: Float64Array): Float64Array<ArrayBuffer> => {
    const wide = new Float64Array(room * 2);
    wide.set(column);
    return wide;
  };
  /** Only before anything was written over, so that the rows lie in their order. */
  const widen = (): void => {
    t = widened(t);
    low = widened(low);
    high = widened(high);
    const reasons = new Uint8Array(room * 2);
    reasons.set(why);
    why = reasons;
    room *= 2;
    next = held;
  };
  return {
    put(at, least, greatest, reason) {
      if (held === room && room < most) widen();
      t[next] = at;
      low[next] = least;
      high[next] = greatest;
      why[next] = reason;
      next = (next + 1) % room;
      if (held < room) held += 1;
    },
    each(to) {
      const first = (next - held + room) % room;
      for (let index = 0; index < held; index += 1) {
        const at = (first + index) % room;
        to(t[at] as number, low[at] as number, high[at] as number, why[at] as number);
      }
    },
    from: () => (held === room && room >= most ? t[next] : undefined),
  };
};

/** What a signal did lately: the last minute in columns of 50 ms, the last ten in columns of half a second. */
export interface Memory {
  readonly take: TakeRow;
  /** Rows since `from` (µs since 1970) in their order, and of what goes on since before it the row that began it. */
  since(from: number, to: TakeRow): void;
}

const FINE: Micros = 50 * MILLISECOND;
const COARSE: Micros = 500 * MILLISECOND;
/** Powers of two times `LEAST_ROWS`: a reading each 50 ms for 100 s; four rows each half a second for ten minutes. */
const FINE_ROWS = 2_048;
const COARSE_ROWS = 8_192;
const MINUTE: Micros = 60 * SECOND;

export const createMemory = (stepped: boolean): Memory => {
  const fine = createRing(FINE_ROWS);
  const coarse = createRing(COARSE_ROWS);
  const near = createThinner({ column: FINE, stepped }, fine.put);
  const far = createThinner({ column: COARSE, stepped }, coarse.put);
  let newest = 0;
  return {
    take(t, low, high, why) {
      newest = t;
      near.take(t, low, high, why);
      if (!stepped) far.take(t, low, high, why);
    },
    since(from, to) {
      // The fine ring may hold less than its minute, where a signal moves more often than each 50 ms.
      const begins = Math.max(fine.from() ?? Number.NEGATIVE_INFINITY, newest - MINUTE);
      const split = stepped ? Number.NEGATIVE_INFINITY : begins;
      const older: TakeRow = (t, low, high, why) => {
        if (t >= from && t < split) to(t, low, high, why);
      };
      const newer: TakeRow = (t, low, high, why) => {
        if (t >= from && t >= split) to(t, low, high, why);
      };
      if (!stepped) {
        coarse.each(older);
        far.pending(older);
        fine.each(newer);
        near.pending(newer);
        return;
      }
      // A state that goes on since before `from` began there.
      let began: readonly [number, number, number, number] | undefined;
      const state: TakeRow = (t, low, high, why) => {
        if (t < from) began = [t, low, high, why];
        else {
          if (began !== undefined) to(...began);
          began = undefined;
          to(t, low, high, why);
        }
      };
      fine.each(state);
      near.pending(state);
      if (began !== undefined) to(...began);
    },
  };
};
