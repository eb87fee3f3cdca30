import { beltOffset, contactClosed } from './belt.ts';
import { beltShaft } from './drive.ts';
import type { MachineModel } from './machine.ts';
import { NEVER } from './memory.ts';
import type { PlantModel } from './state.ts';

const bit = (value: boolean): number => (value ? 1 : 0);
const tenth = (value: number): number => Math.round(value * 10) / 10;

const machineImage = (machine: MachineModel): Readonly<Record<string, number>> => {
  const { memory, settings, drive, held, bearing, belt } = machine;
  const { shaft, head } = memory;
  return {
    'shaft-speed': tenth(shaft.speed),
    'head-speed': tenth(head.speed),
    'bearing-temperature': tenth(bearing.probe),
    'normal-speed': settings.normal,
    'pulse-count': shaft.count % 65_536,
    'pulse-period': Number.isFinite(shaft.period)
      ? Math.min(0xffff_ffff, Math.round(shaft.period)) / 1_000
      : 0,
    'belt-speed': Math.fround((shaft.speed / 60) * machine.girth),
    'run-command': bit(memory.command),
    'motor-running': bit(drive.feedback),
    tripped: bit(memory.tripped),
    'underspeed-alarm': bit(memory.underspeedAlarm),
    'bearing-alarm': bit(memory.bearingAlarm),
    'alignment-alarm': bit(memory.alignmentAlarm),
    horn: bit(memory.horn),
    alignment: bit(!contactClosed(belt)),
    start: bit(held.start > 0),
    stop: bit(held.stop > 0),
    reset: bit(held.reset > 0),
    bypass: bit(memory.bypass),
    force: bit(memory.force),
    learning: bit(memory.learningSince !== NEVER),
    'first-out': memory.firstOut,
  };
};

/** Values as the controller shows them after a scan: states by code, quantities in the unit of the map. */
export const imageOf = (model: PlantModel): Readonly<Record<string, number>> => {
  const image: Record<string, number> = {
    'F1.run-command': bit(model.feederStarted),
    'F1.motor-running': bit(model.feeder.feedback),
    'F1.motion': tenth(model.feeder.speed),
  };
  for (const [name, machine] of Object.entries(model.machines)) {
    image[`${name}.heartbeat`] = model.heartbeat;
    image[`${name}.revision`] = model.revision;
    for (const [signal, value] of Object.entries(machineImage(machine))) image[`${name}.${signal}`] = value;
  }
  return image;
};

/** What is really so, whatever the controller shows: for tests and for people who play with the plant. */
export const truthOf = (model: PlantModel): Readonly<Record<string, number>> => {
  const truth: Record<string, number> = { 'F1.speed': model.feeder.speed };
  for (const [name, machine] of Object.entries(model.machines)) {
    const { drive, bearing, belt, pulses } = machine;
    const values: Readonly<Record<string, number>> = {
      'head-speed': drive.speed,
      'shaft-speed': beltShaft(drive),
      powered: bit(drive.powered),
      bearing: bearing.temperature,
      probe: bearing.probe,
      'belt-offset': beltOffset(belt),
      'injector-taken': pulses.taken,
      'injector-percent': pulses.injector === 'injecting' ? pulses.percent : 100,
    };
    for (const [quantity, value] of Object.entries(values)) truth[`${name}.${quantity}`] = value;
  }
  return truth;
};
