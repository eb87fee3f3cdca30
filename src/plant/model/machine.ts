import { type Bearing, newBearing, warmBearing } from './bearing.ts';
import { type Belt, contactHealthy, moveBelt, newBelt } from './belt.ts';
import { beltShaft, type Drive, newDrive, turnDrive } from './drive.ts';
import { type Inputs, type Memory, newMemory } from './memory.ts';
import { newPulseSource, type PulseSource, turnShaft } from './pulses.ts';
import { newSettings, type Settings } from './settings.ts';
import { newShowing, type Showing } from './showing.ts';
import { newWiring, type Wiring } from './wiring.ts';

export const BUTTONS = ['start', 'stop', 'reset', 'learn', 'silence', 'warned-start'] as const;
export type Button = (typeof BUTTONS)[number];

/** A machine with its sensors, its controller and the buttons on its panel. */
export interface MachineModel {
  readonly drive: Drive;
  /** Pulses of the shaft that the belt turns, where the injector can be put; and of the driven head shaft. */
  readonly pulses: PulseSource;
  readonly headPulses: PulseSource;
  readonly bearing: Bearing;
  /** The bearing on the other side of the same shaft. */
  readonly twin: Bearing;
  readonly belt: Belt;
  /** Metres around the drive pulley. */
  readonly girth: number;
  /** Seconds for which each button is still held. */
  readonly held: Record<Button, number>;
  readonly settings: Settings;
  readonly memory: Memory;
  /** Pulse instants that the controller has not read yet, µs. */
  arrived: { shaft: number[]; head: number[] };
  /** What the program read in its last scan. */
  inputs: Inputs;
  readonly wiring: Wiring;
  readonly showing: Showing;
  readonly rack: Rack;
}

/** The remote rack of inputs and outputs; seconds for which its link is cut, and what its output was before. */
export interface Rack {
  cut: boolean;
  cutFor: number;
  coil: boolean;
}

const NO_INPUTS: Inputs = {
  shaftPulses: [],
  headPulses: [],
  temperature: 0,
  contactClosed: true,
  feedback: false,
  start: false,
  stop: false,
  reset: false,
  learn: false,
  silence: false,
  warnedStart: false,
  linkLost: false,
  foreignTrip: false,
  foreignAlarm: false,
};

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
  twin: newBearing(),
  belt: newBelt(random()),
  girth,
  held: { start: 0, stop: 0, reset: 0, learn: 0, silence: 0, 'warned-start': 0 },
  settings: newSettings(targets, nominal),
  memory: newMemory(),
  arrived: { shaft: [], head: [] },
  inputs: NO_INPUTS,
  wiring: newWiring(),
  showing: newShowing(),
  rack: { cut: false, cutFor: 0, coil: false },
});

/** Seconds after which a rack that is left alone switches its outputs off. */
const LETS_GO_AFTER = 1;

/** Whether the coil of the contactor has current. The stop button also opens it by wire, without the program. */
const coil = (machine: MachineModel, dt: number): boolean => {
  const { memory, drive, held, wiring, rack } = machine;
  rack.cutFor = rack.cut ? rack.cutFor + dt : 0;
  if (rack.cut) return rack.coil && held.stop <= 0 && !(wiring.rackLetsGo && rack.cutFor >= LETS_GO_AFTER);
  rack.coil = wiring.output ? memory.command : held.stop <= 0 && (memory.command || drive.contactor);
  return rack.coil;
};

/** Physics of one machine from `at` (µs) on for `dt` seconds; `ripple` multiplies the speed. */
export const stepMachine = (machine: MachineModel, at: number, dt: number, ripple: number): void => {
  const { drive, arrived, held } = machine;
  turnDrive(drive, coil(machine, dt), dt);
  arrived.shaft.push(...turnShaft(machine.pulses, beltShaft(drive) * ripple, at, dt));
  arrived.head.push(...turnShaft(machine.headPulses, drive.speed * ripple, at, dt));
  const share = drive.speed / drive.nominal;
  warmBearing(machine.bearing, share, dt);
  warmBearing(machine.twin, share, dt);
  moveBelt(machine.belt, drive.speed, share, dt);
  for (const button of BUTTONS) held[button] = Math.max(0, held[button] - dt);
};

/** degC that the temperature card makes of a broken wire, at either end of its range. */
const BROKEN = { hot: 850, cold: -40 } as const;

/** The temperature card resolves 0.1 degC. */
const temperatureOf = ({ bearing, wiring }: MachineModel): number => {
  if (wiring.heldTemperature !== null) return wiring.heldTemperature;
  return bearing.broken ? BROKEN[wiring.brokenProbeReads] : Math.round(bearing.probe * 10) / 10;
};

type Field = Pick<Inputs, 'shaftPulses' | 'headPulses' | 'temperature' | 'contactClosed' | 'feedback'>;

const fieldOf = (machine: MachineModel): Field => {
  const { arrived, wiring, memory } = machine;
  const [shaftPulses, headPulses] = wiring.shaftsSwapped
    ? [arrived.head, arrived.shaft]
    : [arrived.shaft, arrived.head];
  return {
    shaftPulses,
    headPulses,
    temperature: temperatureOf(machine),
    contactClosed: wiring.jumper || contactHealthy(machine.belt, wiring.opensOnDisplaced),
    feedback: wiring.feedbackFromCommand ? memory.command : machine.drive.feedback,
  };
};

/** The controller's input image; what a lost rack showed last stays, and it counts no pulses. */
export const readInputs = (machine: MachineModel, foreignTrip: boolean, foreignAlarm: boolean): Inputs => {
  const { held, rack } = machine;
  const field = rack.cut ? machine.inputs : fieldOf(machine);
  machine.inputs = {
    shaftPulses: rack.cut ? [] : field.shaftPulses,
    headPulses: rack.cut ? [] : field.headPulses,
    temperature: field.temperature,
    contactClosed: field.contactClosed,
    feedback: field.feedback,
    start: held.start > 0,
    stop: held.stop > 0,
    reset: held.reset > 0,
    learn: held.learn > 0,
    silence: held.silence > 0,
    warnedStart: held['warned-start'] > 0,
    linkLost: rack.cut,
    foreignTrip,
    foreignAlarm,
  };
  machine.arrived = { shaft: [], head: [] };
  return machine.inputs;
};
