import { countAlarms, raiseAlarms } from './alarms.ts';
import { stopCause } from './causes.ts';
import { soundHorn } from './horn.ts';
import { latchTrip, release, reset } from './latch.ts';
import { learn, measure } from './measuring.ts';
import { type Inputs, type Memory, newMemory } from './memory.ts';
import type { Settings } from './settings.ts';
import { command } from './starting.ts';

/** A bypass ends when its time is over. */
const endBypass = (memory: Memory, settings: Settings, now: number): void => {
  if (settings.bypassExpires && now >= memory.bypassUntil) memory.bypass = false;
};

/**
 * One scan of one machine's program, `now` in µs. It knows its inputs, never the physics.
 * The order is the program's: measure, judge, latch, reset, horn, command.
 */
export const scan = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  endBypass(memory, settings, now);
  measure(memory, settings, inputs, now);
  learn(memory, settings, inputs, now);
  const cause = stopCause(memory, settings, inputs, now);
  raiseAlarms(memory, settings, inputs, now);
  latchTrip(memory, settings, cause);
  release(memory, settings, inputs, cause);
  reset(memory, settings, inputs, now);
  countAlarms(memory);
  soundHorn(memory, settings, inputs);
  command(memory, settings, inputs, now);
  const { start, reset: resetting, learn: learning, silence, warnedStart } = inputs;
  Object.assign(memory.was, { at: now, start, reset: resetting, learn: learning, silence, warnedStart });
};

/** rpm that an empty memory of the controller takes for normal. */
const FACTORY_NORMAL = 60;

/** What a restart leaves of the memory: trip, alarms, bypass and force; no machine is started. */
export const restart = (memory: Memory, settings: Settings): void => {
  const { tripped, firstOut, underspeedAlarm, bearingAlarm, alignmentAlarm, trips, alarms } = memory;
  const { bypass, bypassUntil, force, forcedSpeed, started } = memory;
  Object.assign(memory, newMemory(), { bypass, bypassUntil, force, forcedSpeed, trips, alarms });
  if (settings.keepsTrip) {
    Object.assign(memory, { tripped, firstOut, underspeedAlarm, bearingAlarm, alignmentAlarm });
  }
  if (settings.keepsRunning) memory.started = started;
  if (!settings.keepsNormal) settings.normal = FACTORY_NORMAL;
};
