import type { Cause } from '../rulebook/index.ts';
import { contactPosition } from './cause-contact.ts';
import { levelPosition } from './cause-level.ts';
import { pulsesPosition } from './cause-pulses.ts';
import type { Edges } from './levels.ts';
import type { Position } from './position.ts';
import type { Track } from './track.ts';

/** Undefined while the signal has no value or the level's reference is unknown. */
export const positionOf = (cause: Cause, track: Track, edges: Edges | undefined): Position | undefined => {
  if (track.last === undefined || track.absent !== undefined) return undefined;
  switch (cause.kind) {
    case 'level':
      return edges && levelPosition(cause, track, edges);
    case 'contact':
      return contactPosition(cause, track);
    case 'no-pulses':
      return pulsesPosition(cause, track);
    default:
      return cause satisfies never;
  }
};
