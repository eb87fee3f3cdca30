import type { Cause } from '../rulebook/index.ts';
import type { Position } from './position.ts';
import { type Row, type Rows, rowsFrom } from './rows.ts';
import { runNow, type Track } from './track.ts';

/** A contact in its acting state. It has no trip point; its change is an interval in time. */
export const contactPosition = (cause: Cause & { kind: 'contact' }, track: Track): Position => {
  const run = runNow(track);
  const acting = run?.state === cause.state;
  const unknown = run === undefined || Number.isNaN(run.state);
  return {
    clear: !unknown && !acting,
    possible: unknown || acting,
    certain: acting,
    step: acting,
    ...(acting && { reachedAfter: run.after, reachedBy: run.from }),
  };
};

/** The first and the last reading of each run: 1 at rest, -1 in the acting state, both where it cannot be told. */
export const contactRows = (state: number, track: Track): Rows =>
  rowsFrom(
    track.runs.flatMap((run): Row[] => {
      const low = run.state !== state && !Number.isNaN(run.state) ? 1 : -1;
      const high = run.state === state ? -1 : 1;
      const base = { low, high, response: 0 };
      const first = { ...base, earliest: run.firstEarliest, latest: run.from };
      const last = { ...base, earliest: run.lastEarliest, latest: run.lastLatest };
      return run.lastLatest > run.from ? [first, last] : [first];
    }),
  );
