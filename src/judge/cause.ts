import type { Cause } from '../rulebook/index.ts';
import { contactPosition } from './cause-contact.ts';
import { levelPosition } from './cause-level.ts';
import { pulsesPosition } from './cause-pulses.ts';
import type { Edges } from './levels.ts';
import type { Track } from './track.ts';

/** Where the cause is now. With doubt, neither `clear` nor `certain` holds. */
export interface Position {
  /** Certainly in its clear band. */
  readonly clear: boolean;
  /** May be in its trip region. */
  readonly possible: boolean;
  /** Certainly beyond set point and tolerance: the interlock must act. */
  readonly certain: boolean;
  /** The cause reached its set point after this instant … */
  readonly reachedAfter?: number;
  /** … and no later than this one, once `certain`. */
  readonly reachedBy?: number;
  /** It went through the whole band between two neighbouring readings. */
  readonly step: boolean;
}

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
