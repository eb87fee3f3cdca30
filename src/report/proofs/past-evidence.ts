import type { Instant } from '../../measure/index.ts';
import type { History, InterlockPast, WindowPast } from './history-types.ts';

/** What one window says of one interlock, with the window. */
export interface Evidence {
  readonly window: WindowPast;
  readonly past: InterlockPast;
}

/** Of windows that are over, by interlock, oldest first. */
export type EvidenceIndex = ReadonlyMap<string, readonly Evidence[]>;

export const evidenceOf = (history: History): EvidenceIndex => {
  const found = new Map<string, Evidence[]>();
  for (const window of history.windows) {
    if (window.standing === 'open') continue;
    for (const past of window.interlocks) {
      const own = found.get(past.name);
      if (own === undefined) found.set(past.name, [{ window, past }]);
      else own.push({ window, past });
    }
  }
  return found;
};

/** A test that somebody made and that passed; a demand is partial evidence and no test. */
export const isPass = ({ window, past }: Evidence): boolean =>
  window.standing === 'closed' && !window.demand && !past.demand && past.verdict.outcome === 'pass';

/** It failed, in a test or when it was needed; or it failed as found and was put right in the same window. */
export const failedAsFound = ({ past }: Evidence): boolean =>
  past.verdict.asFound === 'fail' || past.verdict.outcome === 'fail';

/** When a window was over; of one that has no end, when it was opened. */
export const endOf = ({ opened, closed }: WindowPast): Instant => closed ?? opened;

/** Revision of a machine at the end of a window, as far as it was stated. */
export const revisionIn = (window: WindowPast, machine: string): string | undefined => {
  const found = window.revisions.find((one) => one.machine === machine);
  return found?.closed ?? found?.opened;
};
