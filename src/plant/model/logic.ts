import { FIRST_OUT, type Inputs, type Memory, NEVER } from './memory.ts';
import type { Settings } from './settings.ts';
import { measureSpeed } from './speed-channel.ts';

/** The head shaft is only watched for standing still, so its channel may wait longer for a slow pulse. */
const HEAD_ZERO_AFTER = 2_000_000;

/** On-delay that resets with every return: true once the condition has lasted. */
const lasted = (since: number, now: number, delay: number): boolean => now - since >= delay;
const follow = (since: number, active: boolean, now: number): number => {
  if (!active) return NEVER;
  return since === NEVER ? now : since;
};

const measure = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  measureSpeed(memory.shaft, inputs.shaftPulses, now, settings.targets, settings.lossAfter);
  measureSpeed(memory.head, inputs.headPulses, now, settings.targets, HEAD_ZERO_AFTER);
  if (memory.force) memory.shaft.speed = memory.forcedSpeed;
  memory.runningSince = follow(memory.runningSince, inputs.feedback, now);
};

const isArmed = (memory: Memory, settings: Settings, now: number): boolean =>
  memory.command && lasted(memory.runningSince, now, settings.inhibit);

/** The mean of the running pulses becomes normal. It asks nobody whether the belt slips meanwhile. */
const learn = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  const { shaft } = memory;
  if (!isArmed(memory, settings, now)) memory.learningSince = NEVER;
  else if (inputs.learn && !memory.was.learn && Number.isFinite(shaft.lastPulse)) {
    memory.learningSince = now;
    memory.learnFrom = { count: shaft.count, at: shaft.lastPulse };
  }
  if (!lasted(memory.learningSince, now, settings.learnFor)) return;
  const pulses = shaft.count - memory.learnFrom.count;
  const rpm = (60e6 * pulses) / (settings.targets * (shaft.lastPulse - memory.learnFrom.at));
  if (pulses > 0) settings.normal = Math.round(rpm * 10) / 10;
  memory.learningSince = NEVER;
};

const tooHot = (settings: Settings, inputs: Inputs): boolean =>
  inputs.temperature * settings.bearingScale >= settings.bearingStop;

const raiseAlarms = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  if (memory.bypass) return;
  if (settings.alarmEnabled && lasted(memory.alarmSince, now, settings.alarmDelay))
    memory.underspeedAlarm = true;
  if (inputs.temperature >= settings.bearingAlarm) memory.bearingAlarm = true;
  if (memory.displacedSince !== NEVER) memory.alignmentAlarm = true;
};

/** The first cause that asks for a stop in this scan; where two come at once, this order decides. */
const stopCause = (memory: Memory, settings: Settings, inputs: Inputs, now: number): number => {
  const armed = isArmed(memory, settings, now);
  const share = memory.shaft.speed / settings.normal;
  memory.alarmSince = follow(memory.alarmSince, armed && share < settings.alarmAt, now);
  memory.stopSince = follow(memory.stopSince, armed && share < settings.stopAt, now);
  const watched = inputs.feedback && memory.command;
  memory.displacedSince = follow(memory.displacedSince, watched && !inputs.contactClosed, now);
  if (memory.bypass) return FIRST_OUT.none;
  if (inputs.foreignTrip) return FIRST_OUT.foreign;
  if (armed && now - memory.shaft.lastPulse > settings.lossAfter) return FIRST_OUT.pulseLoss;
  if (lasted(memory.stopSince, now, settings.stopDelay)) return FIRST_OUT.underspeed;
  if (watched && tooHot(settings, inputs)) return FIRST_OUT.bearing;
  const displaced =
    settings.alignmentStops && lasted(memory.displacedSince, now, settings.alignmentStopDelay);
  return displaced ? FIRST_OUT.alignment : FIRST_OUT.none;
};

const latchTrip = (memory: Memory, settings: Settings, cause: number): void => {
  const speedCause = cause === FIRST_OUT.underspeed || cause === FIRST_OUT.pulseLoss;
  memory.sendsTrip = settings.misdirected && speedCause;
  if (cause === FIRST_OUT.none || memory.sendsTrip || memory.tripped) return;
  memory.tripped = true;
  memory.firstOut = cause;
};

/** The planted way of not latching: the trip goes with its cause, and the machine runs again. */
const release = (memory: Memory, settings: Settings, inputs: Inputs, cause: number): void => {
  const fast = memory.shaft.speed >= settings.stopAt * settings.normal;
  const gone = fast && inputs.contactClosed && !tooHot(settings, inputs);
  if (settings.latched || !memory.tripped || cause !== FIRST_OUT.none || !gone) return;
  memory.tripped = false;
  memory.started = true;
};

/** A displaced belt and a hot bearing refuse the reset; the speed of a stopped machine cannot. */
const reset = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  if (!inputs.reset || memory.was.reset) return;
  if (inputs.contactClosed && !tooHot(settings, inputs)) {
    if (memory.tripped && settings.autoRestart) memory.started = true;
    memory.tripped = false;
    memory.firstOut = FIRST_OUT.none;
  }
  memory.underspeedAlarm &&= lasted(memory.alarmSince, now, settings.alarmDelay);
  memory.bearingAlarm &&= inputs.temperature >= settings.bearingAlarm;
  memory.alignmentAlarm &&= !inputs.contactClosed;
};

const command = (memory: Memory, settings: Settings, inputs: Inputs): void => {
  const pressed = inputs.start && !memory.was.start;
  if (pressed && !memory.tripped && !inputs.stop) memory.started = true;
  if (inputs.stop || (memory.tripped && settings.latched)) memory.started = false;
  memory.command = memory.started && !memory.tripped;
  memory.horn = memory.underspeedAlarm || memory.bearingAlarm || memory.alignmentAlarm;
};

/**
 * One scan of one machine's program, `now` in µs. It knows its inputs, never the physics.
 * The order is the program's: measure, judge, latch, reset, command.
 */
export const scan = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  measure(memory, settings, inputs, now);
  learn(memory, settings, inputs, now);
  const cause = stopCause(memory, settings, inputs, now);
  raiseAlarms(memory, settings, inputs, now);
  latchTrip(memory, settings, cause);
  release(memory, settings, inputs, cause);
  reset(memory, settings, inputs, now);
  command(memory, settings, inputs);
  memory.was = { start: inputs.start, reset: inputs.reset, learn: inputs.learn };
};
