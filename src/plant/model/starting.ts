import { type Inputs, lasted, type Memory, NEVER } from './memory.ts';
import type { Settings } from './settings.ts';

/** A warned start sounds its warning first; a stop or a trip ends it. */
const warn = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  const pressed = inputs.warnedStart && !memory.was.warnedStart;
  if (pressed && !memory.started) memory.warningSince = now;
  if (inputs.stop || memory.tripped) memory.warningSince = NEVER;
  if (!lasted(memory.warningSince, now, settings.warnFor)) return;
  memory.warningSince = NEVER;
  memory.started = true;
};

/** Whether the machine is to run: after a press of start, until a stop or a trip. */
export const command = (memory: Memory, settings: Settings, inputs: Inputs, now: number): void => {
  const pressed = inputs.start && !(memory.was.start && settings.startsOnEdge);
  if (pressed && !memory.tripped && !inputs.stop) memory.started = true;
  warn(memory, settings, inputs, now);
  if (inputs.stop || (memory.tripped && settings.latched)) memory.started = false;
  memory.command = memory.started && !memory.tripped;
};
