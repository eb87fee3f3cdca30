import { beltOffset } from './belt.ts';
import { isAligned } from './causes.ts';
import { beltShaft } from './drive.ts';
import type { MachineModel } from './machine.ts';
import { NEVER } from './memory.ts';
import { distort, isHeld } from './showing.ts';
import type { PlantModel } from './state.ts';

const bit = (value: boolean): number => (value ? 1 : 0);
const tenth = (value: number): number => Math.round(value * 10) / 10;
const LONGEST = 65_535;

const machineImage = (machine: MachineModel, now: number): Record<string, number> => {
  const { memory, settings, inputs, bearing, twin } = machine;
  const { shaft, head } = memory;
  const left = memory.bypass ? Math.ceil((memory.bypassUntil - now) / 1_000_000) : 0;
  return {
    'shaft-speed': tenth(shaft.speed),
    'head-speed': tenth(head.speed),
    'bearing-temperature': tenth(inputs.temperature),
    'normal-speed': settings.normal,
    'pulse-count': shaft.count % 65_536,
    'pulse-period': Number.isFinite(shaft.period)
      ? Math.min(0xffff_ffff, Math.round(shaft.period)) / 1_000
      : 0,
    'belt-speed': Math.fround((shaft.speed / 60) * machine.girth),
    'run-command': bit(memory.command),
    'motor-running': bit(inputs.feedback),
    tripped: bit(memory.tripped),
    'underspeed-alarm': bit(memory.underspeedAlarm),
    'bearing-alarm': bit(memory.bearingAlarm),
    'alignment-alarm': bit(memory.alignmentAlarm),
    horn: bit(memory.horn),
    alignment: bit(!isAligned(settings, inputs)),
    start: bit(inputs.start),
    stop: bit(inputs.stop),
    reset: bit(inputs.reset),
    bypass: bit(memory.bypass),
    force: bit(memory.force),
    learning: bit(memory.learningSince !== NEVER),
    silence: bit(inputs.silence),
    silenced: bit(memory.silenced),
    'first-out': memory.firstOut,
    'alignment-contact': bit(!inputs.contactClosed),
    'warned-start': bit(inputs.warnedStart),
    'start-warning': bit(memory.warningSince !== NEVER),
    'sensor-fault': bit(memory.sensorFault),
    'link-fault': bit(inputs.linkLost),
    'alarm-count': memory.alarms,
    'trip-count': memory.trips,
    'ambient-temperature': tenth(bearing.ambient),
    'twin-temperature': tenth(twin.probe),
    'alarm-set-point': tenth(settings.alarmAt * 100),
    'stop-set-point': tenth(settings.stopAt * 100),
    'stop-delay': tenth(settings.stopDelay / 1_000_000),
    'start-inhibit': tenth(settings.inhibit / 1_000_000),
    'bypass-remaining': Math.max(0, Math.min(LONGEST, left)),
  };
};

const feederImage = ({ feeder }: PlantModel): Record<string, number> => ({
  'F1.run-command': bit(feeder.started),
  'F1.motor-running': bit(feeder.drive.feedback),
  'F1.gate-closed': bit(feeder.gate <= 0),
  'F1.motion': tenth(feeder.drive.speed),
});

/** Names are put together once: they are looked up at every scan. */
const names = new Map<string, ReadonlyMap<string, string>>();
const namesOf = (machine: string, values: Readonly<Record<string, number>>): ReadonlyMap<string, string> => {
  const known = names.get(machine);
  if (known !== undefined) return known;
  const made = new Map(Object.keys(values).map((signal) => [signal, `${machine}.${signal}`]));
  names.set(machine, made);
  return made;
};

/** Values as the controller shows them after a scan: states by code, quantities in the unit of the map. */
export const imageOf = (model: PlantModel): Readonly<Record<string, number>> => {
  const image = feederImage(model);
  const { E1, C2 } = model.machines;
  for (const [name, machine, other] of [
    ['E1', E1, C2],
    ['C2', C2, E1],
  ] as const) {
    const values: Record<string, number> = {
      heartbeat: model.heartbeat,
      revision: model.revision,
      ...machineImage(machine, model.now),
    };
    distort(machine.showing, machine.memory, values, tenth(other.memory.shaft.speed), model.now);
    for (const [signal, key] of namesOf(name, values)) {
      image[key] = isHeld(machine.showing, signal) ? (model.image[key] ?? 0) : (values[signal] ?? 0);
    }
  }
  return image;
};

/** What is really so, whatever the controller shows: for tests and for people who play with the plant. */
export const truthOf = (model: PlantModel): Readonly<Record<string, number>> => {
  const truth: Record<string, number> = {
    'F1.speed': model.feeder.drive.speed,
    'F1.gate': model.feeder.gate,
  };
  for (const [name, machine] of Object.entries(model.machines)) {
    const { drive, bearing, belt, pulses, memory, wiring } = machine;
    const values: Readonly<Record<string, number>> = {
      'head-speed': drive.speed,
      'shaft-speed': beltShaft(drive),
      powered: bit(drive.powered),
      'horn-sounds': bit(memory.horn && wiring.horn),
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
