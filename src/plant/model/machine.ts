import { type Bearing, newBearing, warmBearing } from './bearing.ts';
import { type Belt, contactClosed, moveBelt, newBelt } from './belt.ts';
import { beltShaft, type Drive, newDrive, turnDrive } from './drive.ts';
import { type Inputs, type Memory, newMemory } from './memory.ts';
import { newPulseSource, type PulseSource, turnShaft } from './pulses.ts';
import { newSettings, type Settings } from './settings.ts';

export const BUTTONS = ['start', 'stop', 'reset', 'learn'] as const;
export type Button = (typeof BUTTONS)[number];

/** A machine with its sensors, its controller and the buttons on its panel. */
export interface MachineModel {
  readonly drive: Drive;
  /** Pulses of the shaft that the belt turns, where the injector can be put; and of the driven head shaft. */
  readonly pulses: PulseSource;
  readonly headPulses: PulseSource;
  readonly bearing: Bearing;
  readonly belt: Belt;
  /** Metres around the drive pulley. */
  readonly girth: number;
  /** Seconds for which each button is still held. */
  readonly held: Record<Button, number>;
  readonly settings: Settings;
  readonly memory: Memory;
  /** Pulse instants that the controller has not read yet, µs. */
  arrived: { shaft: number[]; head: number[] };
  outputWired: boolean;
}

export const newMachine = (
  nominal: number,
  targets: number,
  girth: number,
  random: () => number,
): MachineModel => ({
  drive: newDrive(nominal),
  pulses: newPulseSource(targets, random()),
  headPulses: newPulseSource(targets, random()),
  bearing: newBearing(),
  belt: newBelt(random()),
  girth,
  held: { start: 0, stop: 0, reset: 0, learn: 0 },
  settings: newSettings(targets, nominal),
  memory: newMemory(),
  arrived: { shaft: [], head: [] },
  outputWired: true,
});

/** Whether the coil of the contactor has current. The stop button also opens it by wire, without the program. */
const coil = (machine: MachineModel): boolean => {
  const { memory, drive, held } = machine;
  if (machine.outputWired) return memory.command;
  return held.stop <= 0 && (memory.command || drive.contactor);
};

/** Physics of one machine from `at` (µs) on for `dt` seconds; `ripple` multiplies the speed. */
export const stepMachine = (machine: MachineModel, at: number, dt: number, ripple: number): void => {
  const { drive, arrived, held } = machine;
  turnDrive(drive, coil(machine), dt);
  arrived.shaft.push(...turnShaft(machine.pulses, beltShaft(drive) * ripple, at, dt));
  arrived.head.push(...turnShaft(machine.headPulses, drive.speed * ripple, at, dt));
  const share = drive.speed / drive.nominal;
  warmBearing(machine.bearing, share, dt);
  moveBelt(machine.belt, drive.speed, share, dt);
  for (const button of BUTTONS) held[button] = Math.max(0, held[button] - dt);
};

/** The controller's input image; the temperature card resolves 0.1 degC. */
export const inputsOf = (machine: MachineModel, foreignTrip: boolean): Inputs => ({
  shaftPulses: machine.arrived.shaft,
  headPulses: machine.arrived.head,
  temperature: Math.round(machine.bearing.probe * 10) / 10,
  contactClosed: contactClosed(machine.belt),
  feedback: machine.drive.feedback,
  start: machine.held.start > 0,
  stop: machine.held.stop > 0,
  reset: machine.held.reset > 0,
  learn: machine.held.learn > 0,
  foreignTrip,
});
