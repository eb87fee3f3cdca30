import { look } from './looks.ts';
import { follow, type Inputs, lasted, type Memory, NEVER } from './memory.ts';
import type { Settings } from './settings.ts';
import { measureSpeed } from './speed-channel.ts';

/** The head shaft is only watched for standing still, so its channel may wait longer for a slow pulse. */
const HEAD_ZERO_AFTER = 2_000_000;

/** degC that no bearing has; common practice, no source. */
const COLDEST = -30;
const HOTTEST = 200;

const measureShafts = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  const { shaft, head } = memory;
  if (inputs.linkLost) {
    // A rack that comes back begins to time its pulses anew.
    Object.assign(shaft, { lastPulse: now });
    Object.assign(head, { lastPulse: now });
    return;
  }
  measureSpeed(shaft, inputs.shaftPulses, now, settings.targets, settings.lossAfter);
  measureSpeed(head, inputs.headPulses, now, settings.targets, HEAD_ZERO_AFTER);
  look(memory.looks, inputs.shaftPulses, shaft.period, now);
  if (settings.speedStays && Number.isFinite(shaft.period)) {
    shaft.speed = 60e6 / (settings.targets * shaft.period);
  }
};

const measureTemperature = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  const { temperature } = inputs;
  const share = Math.min(1, (now - memory.was.at) / settings.bearingFilter);
  if (settings.bearingFilter === 0 || Number.isNaN(memory.temperature)) memory.temperature = temperature;
  else memory.temperature += (temperature - memory.temperature) * share;
  memory.sensorFault = settings.rangeChecked && (temperature < COLDEST || temperature > HOTTEST);
};

export const measure = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  measureShafts(memory, settings, inputs, now);
  if (memory.force) memory.shaft.speed = memory.forcedSpeed;
  measureTemperature(memory, settings, inputs, now);
  memory.runningSince = follow(memory.runningSince, inputs.feedback, now);
};

export const isArmed = (memory: Memory, settings: Settings, now: number): boolean =>
  memory.command && lasted(memory.runningSince, now, settings.inhibit);

/** The mean of the running pulses becomes normal. It asks nobody whether the belt slips meanwhile. */
export const learn = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
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
