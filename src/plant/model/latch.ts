import { resetAlarms } from './alarms.ts';
import { isAligned, tooHot } from './causes.ts';
import { FIRST_OUT, follow, type Inputs, type Memory } from './memory.ts';
import type { Settings } from './settings.ts';

const isSpeed = (cause: number): boolean => cause === FIRST_OUT.underspeed || cause === FIRST_OUT.pulseLoss;

/** A cause trips the machine, and the first one is kept. */
export const latchTrip = (memory: Memory, settings: Settings, cause: number): void => {
  const speedCause = isSpeed(cause);
  memory.sendsTrip = settings.trips !== 'this' && speedCause;
  memory.opensIsolator = cause !== FIRST_OUT.none && settings.stoppedBy === 'isolator';
  if (cause === FIRST_OUT.none || memory.tripped) return;
  if (speedCause && settings.trips === 'other') return;
  if (settings.stoppedBy !== 'program') {
    if (settings.stoppedBy === 'desk') memory.started = false;
    return;
  }
  memory.tripped = true;
  memory.trips = (memory.trips + 1) % 65_536;
  memory.firstOut = settings.firstOutRight ? cause : FIRST_OUT.bearing;
};

/** The planted way of not latching: the trip goes with its cause, and the machine runs again. */
export const release = (memory: Memory, settings: Settings, inputs: Inputs, cause: number): void => {
  const fast = !isSpeed(memory.firstOut) || memory.shaft.speed >= settings.stopAt * settings.normal;
  const gone = fast && isAligned(settings, inputs) && !tooHot(memory, settings);
  if (settings.latched || !memory.tripped || cause !== FIRST_OUT.none || !gone) return;
  memory.tripped = false;
  memory.started = true;
};

/** A displaced belt, a hot bearing and a lost rack refuse the reset; the speed of a stopped machine cannot. */
export const reset = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  const aligned = isAligned(settings, inputs);
  if (inputs.reset && !memory.was.reset) {
    const gone = aligned && !tooHot(memory, settings) && !inputs.linkLost;
    if (gone || !settings.resetWaits) {
      if (memory.tripped && settings.autoRestart) memory.started = true;
      Object.assign(memory, { tripped: false, firstOut: FIRST_OUT.none, slowFor: 0 });
    }
    resetAlarms(memory, settings, aligned, now);
  }
  memory.trippedSince = follow(memory.trippedSince, memory.tripped, now);
};
