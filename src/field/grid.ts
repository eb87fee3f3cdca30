import type { Micros } from '../measure/index.ts';

const now = (): number => Number(process.hrtime.bigint() / 1_000n);

/** A fixed grid: slot n is due at start + n × step, whatever happened before. Timers alone drift by 1 %. */
export interface Grid {
  stop(): void;
  overruns(): number;
  /** How far the last slot began behind its time; timers may also fire up to a millisecond early. */
  lateness(): Micros;
}

/** Runs `slot` at each grid point, never two at once; slots that pass meanwhile are counted and told. */
export const openGrid = (step: Micros, slot: (skipped: number) => Promise<void>): Grid => {
  const start = now();
  let index = 0;
  let overruns = 0;
  let lateness = 0;
  let stopped = false;
  let timer: NodeJS.Timeout | undefined;

  const arm = (skipped: number): void => {
    if (stopped) return;
    const due = start + index * step;
    timer = setTimeout(() => void run(due, skipped), Math.max(0, (due - now()) / 1_000));
  };
  const run = async (due: number, skipped: number): Promise<void> => {
    lateness = now() - due;
    await slot(skipped);
    const next = Math.max(index + 1, Math.ceil((now() - start) / step));
    const missed = next - index - 1;
    overruns += missed;
    index = next;
    arm(missed);
  };
  arm(0);
  return {
    stop: () => {
      stopped = true;
      clearTimeout(timer);
    },
    overruns: () => overruns,
    lateness: () => lateness,
  };
};
