import { CLEAR, NOWHERE, type Position } from './position.ts';
import type { Track } from './track.ts';

/** A wire-break, a short circuit or a fault code in place of a value. It is a cause, and proves no trip point. */
export const sensorFaultPosition = (track: Track): Position => {
  const gap = track.absent;
  if (gap === undefined) {
    return track.last === undefined ? NOWHERE : CLEAR;
  }
  if (gap.why !== 'sensor-fault') return NOWHERE;
  return {
    clear: false,
    possible: true,
    certain: true,
    step: true,
    reachedAfter: gap.after,
    reachedBy: gap.seen,
  };
};
