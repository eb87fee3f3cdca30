import type { Cause } from '../rulebook/index.ts';
import { CLEAR, NOWHERE, type Position } from './position.ts';
import type { Track } from './track.ts';

/** No news of a signal for a time: its communication is lost. Whatever reason the source gives, it counts. */
export const silentPosition = (cause: Cause & { kind: 'silent' }, track: Track): Position => {
  const gap = track.absent;
  if (gap === undefined) {
    return track.last === undefined ? NOWHERE : CLEAR;
  }
  return {
    clear: false,
    possible: true,
    certain: gap.toEarliest - gap.lostSeen >= cause.after,
    step: true,
    reachedAfter: gap.lostAfter,
    reachedBy: gap.lostSeen,
  };
};
