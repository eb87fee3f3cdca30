import { type Looks, newLooks } from './looks.ts';
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
  readonly silence: boolean;
  /** Starts after a warning. */
  readonly warnedStart: boolean;
  /** The remote rack does not answer: pulses, temperature, contact and feedback are its last ones. */
  readonly linkLost: boolean;
  /** Trip and underspeed alarm asked for by another machine's logic. */
  readonly foreignTrip: boolean;
  readonly foreignAlarm: boolean;
}

/** First-out codes, as the controller shows them. */
export const FIRST_OUT = {
  none: 0,
  underspeed: 1,
  pulseLoss: 2,
  bearing: 3,
  alignment: 4,
  foreign: 5,
  overload: 6,
  link: 7,
} as const;

/** What the controller keeps from scan to scan. `…Since` are µs of plant time, `NEVER` while a condition is absent. */
export interface Memory {
  readonly shaft: SpeedChannel;
  readonly head: SpeedChannel;
  readonly looks: Looks;
  /** After the filter, degC; NaN before the first scan. */
  temperature: number;
  sensorFault: boolean;
  runningSince: number;
  alarmSince: number;
  stopSince: number;
  /** µs below the stop, added up since the last reset. */
  slowFor: number;
  displacedSince: number;
  linkSince: number;
  learningSince: number;
  warningSince: number;
  /** Pulse count and instant at which learning began. */
  learnFrom: { count: number; at: number };
  command: boolean;
  tripped: boolean;
  trippedSince: number;
  underspeedAlarm: boolean;
  bearingAlarm: boolean;
  alignmentAlarm: boolean;
  horn: boolean;
  silenced: boolean;
  bypass: boolean;
  /** µs; infinite where nobody said for how long. */
  bypassUntil: number;
  /** Somebody holds the shaft speed at `forcedSpeed` in the program. */
  force: boolean;
  forcedSpeed: number;
  firstOut: number;
  started: boolean;
  alarms: number;
  trips: number;
  /** At the last scan: a button acts when it is pressed, a new alarm when it comes. */
  was: {
    at: number;
    start: boolean;
    reset: boolean;
    learn: boolean;
    silence: boolean;
    warnedStart: boolean;
    slow: boolean;
    alarmed: readonly boolean[];
  };
  /** Set while this machine's underspeed stops or alarms another, and while somebody opens its isolator. */
  sendsTrip: boolean;
  sendsAlarm: boolean;
  opensIsolator: boolean;
}

export const NEVER = Number.POSITIVE_INFINITY;

export const newMemory = (): Memory => ({
  shaft: newSpeedChannel(),
  head: newSpeedChannel(),
  looks: newLooks(),
  temperature: Number.NaN,
  sensorFault: false,
  runningSince: NEVER,
  alarmSince: NEVER,
  stopSince: NEVER,
  slowFor: 0,
  displacedSince: NEVER,
  linkSince: NEVER,
  learningSince: NEVER,
  warningSince: NEVER,
  learnFrom: { count: 0, at: 0 },
  command: false,
  tripped: false,
  trippedSince: NEVER,
  underspeedAlarm: false,
  bearingAlarm: false,
  alignmentAlarm: false,
  horn: false,
  silenced: false,
  bypass: false,
  bypassUntil: NEVER,
  force: false,
  forcedSpeed: 0,
  firstOut: FIRST_OUT.none,
  started: false,
  alarms: 0,
  trips: 0,
  was: {
    at: 0,
    start: false,
    reset: false,
    learn: false,
    silence: false,
    warnedStart: false,
    slow: false,
    alarmed: [],
  },
  sendsTrip: false,
  sendsAlarm: false,
  opensIsolator: false,
});

/** On-delay that resets with every return: true once the condition has lasted. */
export const lasted = (since: number, now: number, delay: number): boolean => now - since >= delay;

/** Since when a condition lasts, carried on to this scan. */
export const follow = (since: number, active: boolean, now: number): number => {
  if (!active) return NEVER;
  return since === NEVER ? now : since;
};
