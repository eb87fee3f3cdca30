import type { Cause } from '../rulebook/index.ts';
import type { Position } from './position.ts';
import { runNow, type Track } from './track.ts';

/** A contact in its acting state. It has no trip point; its change is an interval in time. */
export const contactPosition = (cause: Cause & { kind: 'contact' }, track: Track): Position => {
  const run = runNow(track);
  const acting = run?.state === cause.state;
  return {
    clear: run !== undefined && !acting,
    possible: run === undefined || acting,
    certain: acting,
    step: acting,
    ...(acting && run !== undefined && { reachedAfter: run.after, reachedBy: run.from }),
  };
};
