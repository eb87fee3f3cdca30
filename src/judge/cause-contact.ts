import type { Cause } from '../rulebook/index.ts';
import type { Position } from './position.ts';
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
