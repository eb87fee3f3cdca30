/** The controller of one machine, as its scan would run it. It knows its inputs, never the physics. Times in µs. */
export interface Settings {
  readonly targets: number;
  /** Fractions of normal. */
  alarmAt: number;
  stopAt: number;
  readonly alarmDelay: number;
  stopDelay: number;
  /** No pulse for this long is a loss of pulses. */
  readonly lossAfter: number;
  readonly inhibit: number;
  readonly bearingAlarm: number;
  readonly bearingStop: number;
  /** The stop compares the temperature times this. */
  bearingScale: number;
  readonly alignmentStopDelay: number;
  alarmEnabled: boolean;
  alignmentStops: boolean;
  latched: boolean;
  autoRestart: boolean;
  /** An underspeed goes to another machine's trip instead of its own. */
  misdirected: boolean;
  normal: number;
}

export const newSettings = (targets: number, normal: number): Settings => ({
  targets,
  alarmAt: 0.9,
  stopAt: 0.82,
  alarmDelay: 0,
  stopDelay: 1_000_000,
  lossAfter: 500_000,
  inhibit: 5_000_000,
  bearingAlarm: 70,
  bearingStop: 80,
  bearingScale: 1,
  alignmentStopDelay: 2_000_000,
  alarmEnabled: true,
  alignmentStops: true,
  latched: true,
  autoRestart: false,
  misdirected: false,
  normal,
});

export interface Inputs {
  /** Pulse instants since the last scan. */
  readonly pulses: readonly number[];
  readonly temperature: number;
  /** A closed contact is healthy; an open one, or a broken wire, is not. */
  readonly contactClosed: boolean;
  readonly feedback: boolean;
  readonly start: boolean;
  readonly stop: boolean;
  readonly reset: boolean;
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

export interface Memory {
  speed: number;
  lastPulse: number;
  period: number;
  count: number;
  runningSince: number;
  alarmSince: number;
  stopSince: number;
  displacedSince: number;
  command: boolean;
  tripped: boolean;
  underspeedAlarm: boolean;
  bearingAlarm: boolean;
  alignmentAlarm: boolean;
  horn: boolean;
  bypass: boolean;
  force: boolean;
  firstOut: number;
  started: boolean;
  wasReset: boolean;
  /** Set while this machine's underspeed is sent elsewhere. */
  sendsTrip: boolean;
}

const NEVER = Number.POSITIVE_INFINITY;

export const newMemory = (): Memory => ({
  speed: 0,
  lastPulse: Number.NEGATIVE_INFINITY,
  period: NEVER,
  count: 0,
  runningSince: NEVER,
  alarmSince: NEVER,
  stopSince: NEVER,
  displacedSince: NEVER,
  command: false,
  tripped: false,
  underspeedAlarm: false,
  bearingAlarm: false,
  alignmentAlarm: false,
  horn: false,
  bypass: false,
  force: false,
  firstOut: FIRST_OUT.none,
  started: false,
  wasReset: false,
  sendsTrip: false,
});

/** Speed from the last pulse period; an overdue pulse lowers it; no pulse for `lossAfter` reads zero. */
const measureSpeed = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  for (const pulse of inputs.pulses) {
    memory.period = pulse - memory.lastPulse;
    memory.lastPulse = pulse;
    memory.count += 1;
  }
  const waited = now - memory.lastPulse;
  const period = Math.max(memory.period, waited);
  memory.speed = waited > settings.lossAfter ? 0 : 60e6 / (settings.targets * period);
};

/** On-delay that resets with every return: true once the condition has lasted. */
const lasted = (since: number, now: number, delay: number): boolean => now - since >= delay;
const follow = (since: number, active: boolean, now: number): number => {
  if (!active) return NEVER;
  return since === NEVER ? now : since;
};

const causes = (memory: Memory, settings: Settings, inputs: Inputs, now: number): number => {
  const armed = memory.command && lasted(memory.runningSince, now, settings.inhibit);
  const share = memory.speed / settings.normal;
  memory.alarmSince = follow(memory.alarmSince, armed && share < settings.alarmAt, now);
  memory.stopSince = follow(memory.stopSince, armed && share < settings.stopAt, now);
  const watched = inputs.feedback && memory.command;
  memory.displacedSince = follow(memory.displacedSince, watched && !inputs.contactClosed, now);
  if (memory.bypass) return FIRST_OUT.none;
  if (settings.alarmEnabled && lasted(memory.alarmSince, now, settings.alarmDelay))
    memory.underspeedAlarm = true;
  if (inputs.temperature >= settings.bearingAlarm) memory.bearingAlarm = true;
  if (memory.displacedSince !== NEVER) memory.alignmentAlarm = true;
  if (inputs.foreignTrip) return FIRST_OUT.foreign;
  if (armed && now - memory.lastPulse > settings.lossAfter) return FIRST_OUT.pulseLoss;
  if (lasted(memory.stopSince, now, settings.stopDelay)) return FIRST_OUT.underspeed;
  if (watched && inputs.temperature * settings.bearingScale >= settings.bearingStop) return FIRST_OUT.bearing;
  const displaced =
    settings.alignmentStops && lasted(memory.displacedSince, now, settings.alignmentStopDelay);
  return displaced ? FIRST_OUT.alignment : FIRST_OUT.none;
};

const stillThere = (memory: Memory, settings: Settings, inputs: Inputs): boolean => {
  const hot = inputs.temperature * settings.bearingScale >= settings.bearingStop;
  const slow = memory.command && memory.speed < settings.stopAt * settings.normal;
  return hot || !inputs.contactClosed || slow;
};

const latchTrip = (memory: Memory, settings: Settings, cause: number): void => {
  const speedCause = cause === FIRST_OUT.underspeed || cause === FIRST_OUT.pulseLoss;
  memory.sendsTrip = settings.misdirected && speedCause;
  if (cause === FIRST_OUT.none || memory.sendsTrip || memory.tripped) return;
  memory.tripped = true;
  memory.firstOut = cause;
};

const recover = (memory: Memory, settings: Settings, inputs: Inputs, cause: number): void => {
  const speedBack = memory.speed >= settings.stopAt * settings.normal;
  const gone = inputs.contactClosed && inputs.temperature * settings.bearingScale < settings.bearingStop;
  if (!settings.latched && memory.tripped && cause === FIRST_OUT.none && speedBack && gone) {
    memory.tripped = false;
    memory.started = true;
  }
  const pressed = inputs.reset && !memory.wasReset;
  memory.wasReset = inputs.reset;
  if (!pressed) return;
  // A displaced belt and a hot bearing refuse the reset; a stopped machine's speed cannot.
  if (!stillThere({ ...memory, command: false }, settings, inputs)) {
    if (memory.tripped && settings.autoRestart) memory.started = true;
    memory.tripped = false;
    memory.firstOut = FIRST_OUT.none;
  }
  memory.underspeedAlarm = false;
  memory.bearingAlarm = inputs.temperature >= settings.bearingAlarm;
  memory.alignmentAlarm = false;
};

/** One scan. The order is the program's: measure, judge, latch, reset, command. */
export const scan = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  measureSpeed(memory, settings, inputs, now);
  memory.runningSince = follow(memory.runningSince, inputs.feedback, now);
  const cause = causes(memory, settings, inputs, now);
  latchTrip(memory, settings, cause);
  recover(memory, settings, inputs, cause);
  if (inputs.start && !memory.tripped && !inputs.stop) memory.started = true;
  if (inputs.stop || (memory.tripped && settings.latched)) memory.started = false;
  memory.command = memory.started && !memory.tripped;
  memory.horn = memory.underspeedAlarm || memory.bearingAlarm || memory.alignmentAlarm;
};
