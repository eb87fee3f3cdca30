import type { Micros } from '../../measure/index.ts';

/** Mean time between answers, over the last one to two spans. */
export interface Meter {
  answered(at: Micros): void;
  /** Undefined while fewer than two answers came in that time. */
  mean(at: Micros): Micros | undefined;
}

interface Span {
  readonly first: Micros;
  readonly count: number;
}

export const createMeter = (span: Micros): Meter => {
  let before: Span | undefined;
  let current: Span | undefined;
  let last = 0;
  const turn = (at: Micros): void => {
    if (current === undefined || at - current.first < span) return;
    before = at - last < span ? current : undefined;
    current = undefined;
  };
  return {
    answered(at) {
      turn(at);
      current = { first: current?.first ?? at, count: (current?.count ?? 0) + 1 };
      last = at;
    },
    mean(at) {
      if (at - last > 2 * span) return undefined;
      const first = before?.first ?? current?.first ?? last;
      const count = (before?.count ?? 0) + (current?.count ?? 0);
      return count < 2 ? undefined : (last - first) / (count - 1);
    },
  };
};
