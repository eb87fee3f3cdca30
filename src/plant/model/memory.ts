import { newSpeedChannel, type SpeedChannel } from './speed-channel.ts';

/** What the controller reads in a scan. */
export interface Inputs {
  /** Pulse instants since the last scan, µs, of the shaft that the belt turns and of the driven head shaft. */
  readonly shaftPulses: readonly number[];
  readonly headPulses: readonly number[];
  readonly temperature: number;
  /** A closed contact is healthy; an open one, or a broken wire, is not. */
  readonly contactClosed: boolean;
  readonly feedback: boolean;
  readonly start: boolean;
  readonly stop: boolean;
  readonly reset: boolean;
  /** The key that makes the running speed the new normal. */
  readonly learn: boolean;
  /** Trip asked for by another machine's logic. */
  readonly foreignTrip: boolean;
}

/** First-out codes, as the controller shows them. */
export const FIRST_OUT = {
  none: 0,
  underspeed: 1,
  pulseLoss: 2,
  bearing: 3,
  alignment: 4,
  foreign: 5,
} as const;

/** What the controller keeps from scan to scan. `…Since` are µs of plant time, `NEVER` while a condition is absent. */
export interface Memory {
  readonly shaft: SpeedChannel;
  readonly head: SpeedChannel;
  runningSince: number;
  alarmSince: number;
  stopSince: number;
  displacedSince: number;
  learningSince: number;
  /** Pulse count and instant at which learning began. */
  learnFrom: { count: number; at: number };
  command: boolean;
  tripped: boolean;
  underspeedAlarm: boolean;
  bearingAlarm: boolean;
  alignmentAlarm: boolean;
  horn: boolean;
  bypass: boolean;
  /** Somebody holds the shaft speed at `forcedSpeed` in the program. */
  force: boolean;
  forcedSpeed: number;
  firstOut: number;
  started: boolean;
  /** Buttons at the last scan: a button acts when it is pressed, never because it is still held. */
  was: { start: boolean; reset: boolean; learn: boolean };
  /** Set while this machine's underspeed is sent elsewhere. */
  sendsTrip: boolean;
}

export const NEVER = Number.POSITIVE_INFINITY;

export const newMemory = (): Memory => ({
  shaft: newSpeedChannel(),
  head: newSpeedChannel(),
  runningSince: NEVER,
  alarmSince: NEVER,
  stopSince: NEVER,
  displacedSince: NEVER,
  learningSince: NEVER,
  learnFrom: { count: 0, at: 0 },
  command: false,
  tripped: false,
  underspeedAlarm: false,
  bearingAlarm: false,
  alignmentAlarm: false,
  horn: false,
  bypass: false,
  force: false,
  forcedSpeed: 0,
  firstOut: FIRST_OUT.none,
  started: false,
  was: { start: false, reset: false, learn: false },
  sendsTrip: false,
});
