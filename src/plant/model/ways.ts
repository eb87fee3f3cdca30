import type { Levels } from './levels.ts';

/** How one machine's program acts. The first state of each, or true, is right; the others can be planted. */
export interface Ways {
  alarmEnabled: boolean;
  bearingAlarms: boolean;
  alignmentAlarms: boolean;
  speedStops: boolean;
  lossStops: boolean;
  bearingStops: boolean;
  alignmentStops: boolean;
  /** The underspeed alarm waits for the same arming as the stop. */
  alarmMasked: boolean;
  alarmHolds: 'until-reset' | 'while-present' | 'one-scan';
  alarmsAt: 'this' | 'other';
  /** Where an underspeed or a loss of pulses goes. */
  trips: 'this' | 'other' | 'both';
  /** Who acts on a cause. */
  stoppedBy: 'program' | 'desk' | 'isolator';
  latched: boolean;
  /** A dip that recovers begins the delay again. */
  delayRestarts: boolean;
  /** Speed from the time between pulses, or a look at the input's level now and then. */
  speedFrom: 'periods' | 'looks';
  /** Without pulses the last speed stays. */
  speedStays: boolean;
  alignmentReads: 'contact' | 'inverted' | 'forced';
  /** A temperature that no bearing has is a faulty probe. */
  rangeChecked: boolean;
  linkWatched: boolean;
  autoRestart: boolean;
  /** The start button acts when it is pressed, never because it is still held. */
  startsOnEdge: boolean;
  /** A reset is refused while the cause is present. */
  resetWaits: boolean;
  /** What a silence button takes away. */
  silences: 'sound' | 'everything';
  resounds: boolean;
  leftSilenced: boolean;
  bypassExpires: boolean;
  firstOutRight: boolean;
  /** What outlives a restart of the controller. */
  keepsTrip: boolean;
  keepsNormal: boolean;
  keepsRunning: boolean;
  /** What somebody changes as soon as the speed falls, and null again when it is done. */
  meddling: Partial<Pick<Levels, 'stopAt' | 'stopDelay' | 'normal'>> | null;
}

export const newWays = (): Ways => ({
  alarmEnabled: true,
  bearingAlarms: true,
  alignmentAlarms: true,
  speedStops: true,
  lossStops: true,
  bearingStops: true,
  alignmentStops: true,
  alarmMasked: true,
  alarmHolds: 'until-reset',
  alarmsAt: 'this',
  trips: 'this',
  stoppedBy: 'program',
  latched: true,
  delayRestarts: true,
  speedFrom: 'periods',
  speedStays: false,
  alignmentReads: 'contact',
  rangeChecked: true,
  linkWatched: true,
  autoRestart: false,
  startsOnEdge: true,
  resetWaits: true,
  silences: 'sound',
  resounds: true,
  leftSilenced: false,
  bypassExpires: true,
  firstOutRight: true,
  keepsTrip: true,
  keepsNormal: true,
  keepsRunning: false,
  meddling: null,
});
