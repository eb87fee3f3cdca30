import type { Micros } from '../../measure/index.ts';

/** Microseconds of the machine's monotonic clock. */
export const tick = (): Micros => Math.floor(performance.now() * 1_000);

/** A fixed grid: slot n is due at origin + n × step, whatever happened before. Timers alone drift by 1 %. */
export interface Grid {
  stop(): void;
  /** How far the last slot began behind its time; timers may also fire up to a millisecond early. */
  lateness(): Micros;
  /** When the next slot is due, by `tick`. */
  due(): Micros;
}

/** Calls `slot` at each grid point that is still to come, with the number of those that could not be kept before it. */
export const openGrid = (step: Micros, origin: Micros, slot: (skipped: number) => void): Grid => {
  let index = Math.max(0, Math.ceil((tick() - origin) / step));
  let lateness = 0;
  let stopped = false;
  let timer: NodeJS.Timeout | undefined;
  const due = (): Micros => origin + index * step;
  const arm = (skipped: number): void => {
    timer = setTimeout(() => run(skipped), Math.max(0, (due() - tick()) / 1_000));
  };
  const run = (skipped: number): void => {
    lateness = tick() - due();
    const next = Math.max(index + 1, Math.ceil((tick() - origin) / step));
    const missed = next - index - 1;
    index = next;
    slot(skipped);
    if (!stopped) arm(missed);
  };
  arm(0);
  return {
    stop: () => {
      stopped = true;
      clearTimeout(timer);
    },
    lateness: () => lateness,
    due,
  };
};
