import { seemsStill } from './looks.ts';
import { isArmed } from './measuring.ts';
import { FIRST_OUT, follow, type Inputs, lasted, type Memory } from './memory.ts';
import type { Settings } from './settings.ts';

export const tooHot = (memory: Memory, settings: Settings): boolean =>
  memory.sensorFault || memory.temperature * settings.bearingScale >= settings.bearingStop;

/** Whether the program takes the belt to be in its place. */
export const isAligned = (settings: Settings, inputs: Inputs): boolean => {
  if (settings.alignmentReads === 'forced') return true;
  return settings.alignmentReads === 'contact' ? inputs.contactClosed : !inputs.contactClosed;
};

/** Somebody who changes a setting in the middle of a test leaves no other trace of it. */
const meddle = (memory: Memory, settings: Settings, armed: boolean): void => {
  if (settings.meddling === null || !armed || memory.shaft.speed >= 0.95 * settings.normal) return;
  Object.assign(settings, settings.meddling, { meddling: null });
};

const followConditions = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  const armed = isArmed(memory, settings, now);
  const share = memory.shaft.speed / settings.normal;
  const turning = inputs.feedback || memory.shaft.speed > 0;
  const low = share < settings.alarmAt && (armed || (turning && !settings.alarmMasked));
  const slow = settings.speedFrom === 'periods' ? share < settings.stopAt : seemsStill(memory.looks, now);
  const displaced = inputs.feedback && memory.command && !isAligned(settings, inputs);
  memory.alarmSince = follow(memory.alarmSince, low, now);
  memory.stopSince = follow(memory.stopSince, armed && slow, now);
  if (armed && slow) memory.slowFor += now - memory.was.at;
  memory.displacedSince = follow(memory.displacedSince, displaced, now);
  memory.linkSince = follow(memory.linkSince, inputs.linkLost, now);
};

const speedCause = (memory: Memory, settings: Settings, now: number): number => {
  const armed = isArmed(memory, settings, now);
  const lost = armed && now - memory.shaft.lastPulse > settings.lossAfter;
  if (settings.lossStops && lost) return FIRST_OUT.pulseLoss;
  const due = settings.delayRestarts
    ? lasted(memory.stopSince, now, settings.stopDelay)
    : armed && memory.slowFor >= settings.stopDelay;
  if (settings.speedStops && due) return FIRST_OUT.underspeed;
  if (lasted(memory.stopSince, now, settings.overloadAfter)) return FIRST_OUT.overload;
  const stray = armed && lasted(memory.runningSince, now, settings.strayTripAfter);
  return stray ? FIRST_OUT.underspeed : FIRST_OUT.none;
};

/** The first cause that asks for a stop in this scan; where two come at once, this order decides. */
export const stopCause = (memory: Memory, settings: Settings, inputs: Inputs, now: number): number => {
  meddle(memory, settings, isArmed(memory, settings, now));
  followConditions(memory, settings, inputs, now);
  const watched = inputs.feedback && memory.command;
  if (settings.linkWatched && watched && lasted(memory.linkSince, now, settings.linkLostAfter)) {
    return FIRST_OUT.link;
  }
  if (memory.bypass) return FIRST_OUT.none;
  if (inputs.foreignTrip) return FIRST_OUT.foreign;
  const speed = speedCause(memory, settings, now);
  if (speed !== FIRST_OUT.none) return speed;
  if (settings.bearingStops && watched && tooHot(memory, settings)) return FIRST_OUT.bearing;
  const displaced =
    settings.alignmentStops && lasted(memory.displacedSince, now, settings.alignmentStopDelay);
  return displaced ? FIRST_OUT.alignment : FIRST_OUT.none;
};
