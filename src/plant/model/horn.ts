import type { Inputs, Memory } from './memory.ts';
import type { Settings } from './settings.ts';

/** The horn sounds for an alarm until it is silenced; silence takes the sound alone, and a new alarm sounds again. */
export const soundHorn = (memory: Memory, settings: Settings, inputs: Inputs): void => {
  if (inputs.silence && !memory.was.silence && settings.silences === 'everything') {
    Object.assign(memory, { tripped: false, firstOut: 0 });
    Object.assign(memory, { underspeedAlarm: false, bearingAlarm: false, alignmentAlarm: false });
  }
  const alarmed = [memory.underspeedAlarm, memory.bearingAlarm, memory.alignmentAlarm];
  const any = alarmed.includes(true);
  const fresh = alarmed.some((on, index) => on && memory.was.alarmed[index] !== true);
  if (settings.resounds && (fresh || !any)) memory.silenced = false;
  if (inputs.silence && !memory.was.silence && any) memory.silenced = true;
  if (settings.leftSilenced) memory.silenced = true;
  memory.horn = any && !memory.silenced;
  memory.was.alarmed = alarmed;
};
