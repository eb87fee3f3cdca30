import { type Inputs, lasted, type Memory, NEVER } from './memory.ts';
import type { Settings } from './settings.ts';

const hotEnough = (memory: Memory, settings: Settings): boolean =>
  memory.sensorFault || memory.temperature >= settings.bearingAlarm;

const raiseUnderspeed = (memory: Memory, settings: Settings, slow: boolean): void => {
  if (!settings.alarmEnabled || settings.alarmsAt !== 'this') return;
  if (settings.alarmHolds === 'until-reset') memory.underspeedAlarm ||= slow;
  else memory.underspeedAlarm = slow && (settings.alarmHolds === 'while-present' || !memory.was.slow);
};

/** Alarms come with their causes, and stay until they are reset. */
export const raiseAlarms = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  const slow = !memory.bypass && lasted(memory.alarmSince, now, settings.alarmDelay);
  memory.sendsAlarm = settings.alarmsAt === 'other' && slow;
  if (!memory.bypass) {
    raiseUnderspeed(memory, settings, slow);
    if (inputs.foreignAlarm) memory.underspeedAlarm = true;
    if (settings.bearingAlarms && hotEnough(memory, settings)) memory.bearingAlarm = true;
    if (settings.alignmentAlarms && memory.displacedSince !== NEVER) memory.alignmentAlarm = true;
  }
  memory.was.slow = slow;
};

/** An alarm goes only where its cause is gone, so that a reset never silences one for a single scan. */
export const resetAlarms = (memory: Memory, settings: Settings, aligned: boolean, now: number): void => {
  memory.underspeedAlarm &&= lasted(memory.alarmSince, now, settings.alarmDelay);
  memory.bearingAlarm &&= hotEnough(memory, settings);
  memory.alignmentAlarm &&= !aligned;
};

/** Counted, so that an alarm is seen even where it is gone before anybody looks. */
export const countAlarms = (memory: Memory): void => {
  const alarmed = [memory.underspeedAlarm, memory.bearingAlarm, memory.alignmentAlarm];
  const fresh = alarmed.filter((on, index) => on && memory.was.alarmed[index] !== true).length;
  memory.alarms = (memory.alarms + fresh) % 65_536;
};
