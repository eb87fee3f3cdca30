import type { Micros } from '../../measure/index.ts';
import { type Bearing, newBearing, warmBearing } from './bearing.ts';
import { beltShaft, type Drive, newDrive, turnDrive } from './drive.ts';
import type { Fault } from './faults.ts';
import { type Inputs, type Memory, newMemory, newSettings, type Settings, scan } from './logic.ts';
import { newPulseSource, type PulseSource, turnShaft } from './pulses.ts';
import { seeded } from './random.ts';

/** A machine with its sensors, its controller and the buttons on its panel. */
export interface MachineModel {
  readonly drive: Drive;
  readonly pulses: PulseSource;
  readonly bearing: Bearing;
  /** Test screw of the alignment switch, belt wander (mm) and the wire of the contact. */
  screw: boolean;
  wander: number;
  broken: boolean;
  /** Seconds for which each button is still held. */
  held: { start: number; stop: number; reset: number };
  readonly settings: Settings;
  readonly memory: Memory;
  arrived: number[];
  outputWired: boolean;
}

export type MachineName = 'E1' | 'C2';

export interface PlantOptions {
  readonly seed: number;
  /** Controller cycle and the most by which it varies, µs. */
  readonly scan?: Micros;
  readonly jitter?: Micros;
  readonly fault?: Fault;
}

/** Everything of the plant; moved by `advance` alone. */
export interface PlantModel {
  readonly machines: Readonly<Record<MachineName, MachineModel>>;
  readonly feeder: Drive;
  feederStarted: boolean;
  cascade: boolean;
  heartbeat: number;
  revision: number;
  fault?: Fault;
  /** Microseconds of simulated time. */
  now: Micros;
  nextScan: Micros;
  readonly scan: Micros;
  readonly jitter: Micros;
  readonly random: () => number;
  /** What the controller shows, by signal name; renewed once a scan. */
  image: Readonly<Record<string, number>>;
  scans: number;
}

const STEP: Micros = 5_000;
/** Belt wander in mm at which the switch opens. */
const SWITCH_AT = 25;

const newMachine = (nominal: number, targets: number): MachineModel => ({
  drive: newDrive(nominal),
  pulses: newPulseSource(targets),
  bearing: newBearing(),
  screw: false,
  wander: 0,
  broken: false,
  held: { start: 0, stop: 0, reset: 0 },
  settings: newSettings(targets, nominal),
  memory: newMemory(),
  arrived: [],
  outputWired: true,
});

/** Changes the program (or the wiring) so that the fault is there. */
export const plantFault = (model: PlantModel, fault: Fault): void => {
  const leg = model.machines.E1;
  model.fault = fault;
  const changes: Readonly<Record<Fault, () => void>> = {
    'wrong-set-point': () => {
      leg.settings.stopAt = 0.76;
    },
    'wrong-scale': () => {
      leg.settings.bearingScale = 0.9;
    },
    'shutdown-not-wired': () => {
      leg.outputWired = false;
    },
    'alarm-missing': () => {
      leg.settings.alarmEnabled = false;
    },
    'delay-too-long': () => {
      leg.settings.stopDelay = 4_000_000;
    },
    'releases-on-recovery': () => {
      leg.settings.latched = false;
    },
    'another-machine-trips': () => {
      leg.settings.misdirected = true;
    },
    'bypass-left-on': () => {
      leg.memory.bypass = true;
    },
    'auto-restart': () => {
      leg.settings.autoRestart = true;
    },
    'normal-learned-slipping': () => {
      leg.drive.slip = 0.14;
      leg.settings.normal = Math.round(leg.drive.nominal * 0.86 * 10) / 10;
    },
    'cascade-missing': () => {
      model.cascade = false;
    },
    'alignment-stop-missing': () => {
      leg.settings.alignmentStops = false;
    },
  };
  changes[fault]();
};

export const createModel = (options: PlantOptions): PlantModel => {
  const model: PlantModel = {
    machines: { E1: newMachine(96, 4), C2: newMachine(60, 4) },
    feeder: newDrive(30),
    feederStarted: false,
    cascade: true,
    heartbeat: 0,
    revision: 41,
    now: 0,
    nextScan: 0,
    scan: options.scan ?? 20_000,
    jitter: options.jitter ?? 2_000,
    random: seeded(options.seed),
    image: {},
    scans: 0,
  };
  if (options.fault !== undefined) plantFault(model, options.fault);
  scanAll(model);
  return model;
};

const inputsOf = (machine: MachineModel, foreignTrip: boolean): Inputs => ({
  pulses: machine.arrived,
  temperature: Math.round(machine.bearing.probe * 10) / 10,
  contactClosed: !machine.broken && !machine.screw && Math.abs(machine.wander) < SWITCH_AT,
  feedback: machine.drive.feedback,
  start: machine.held.start > 0,
  stop: machine.held.stop > 0,
  reset: machine.held.reset > 0,
  foreignTrip,
});

const scanAll = (model: PlantModel): void => {
  const { E1, C2 } = model.machines;
  scan(E1.memory, E1.settings, inputsOf(E1, false), model.now);
  scan(C2.memory, C2.settings, inputsOf(C2, E1.memory.sendsTrip), model.now);
  for (const machine of [E1, C2]) machine.arrived = [];
  if (model.cascade && !(E1.memory.command && E1.drive.feedback)) model.feederStarted = false;
  model.heartbeat = (model.heartbeat + 1) % 65_536;
  model.scans += 1;
  model.image = imageOf(model);
};

const bit = (value: boolean): number => (value ? 1 : 0);

/** Values as the controller shows them: states by code, quantities in the unit of the map. */
const imageOf = (model: PlantModel): Record<string, number> => {
  const image: Record<string, number> = {
    'F1.run-command': bit(model.feederStarted),
    'F1.motor-running': bit(model.feeder.feedback),
    'F1.motion': Math.round(model.feeder.speed * 10) / 10,
  };
  for (const [name, machine] of Object.entries(model.machines)) {
    const { memory, settings, drive, held, bearing } = machine;
    const period = Number.isFinite(memory.period) ? Math.min(0xffff_ffff, Math.round(memory.period)) : 0;
    const values: Readonly<Record<string, number>> = {
      'shaft-speed': Math.round(memory.speed * 10) / 10,
      'head-speed': Math.round(drive.speed * 10) / 10,
      'bearing-temperature': Math.round(bearing.probe * 10) / 10,
      'normal-speed': settings.normal,
      heartbeat: model.heartbeat,
      revision: model.revision,
      'pulse-count': memory.count % 65_536,
      'pulse-period': period,
      'run-command': bit(memory.command),
      'motor-running': bit(drive.feedback),
      tripped: bit(memory.tripped),
      'underspeed-alarm': bit(memory.underspeedAlarm),
      'bearing-alarm': bit(memory.bearingAlarm),
      'alignment-alarm': bit(memory.alignmentAlarm),
      horn: bit(memory.horn),
      alignment: bit(!inputsOf(machine, false).contactClosed),
      start: bit(held.start > 0),
      stop: bit(held.stop > 0),
      reset: bit(held.reset > 0),
      bypass: bit(memory.bypass),
      force: bit(memory.force),
      'first-out': memory.firstOut,
    };
    for (const [signal, value] of Object.entries(values)) image[`${name}.${signal}`] = value;
  }
  return image;
};

const stepMachine = (model: PlantModel, machine: MachineModel, dt: number): void => {
  const coil = machine.outputWired
    ? machine.memory.command
    : machine.memory.command || machine.drive.contactor;
  turnDrive(machine.drive, coil, dt);
  const noise = 1 + (model.random() - 0.5) * 0.0006;
  const pulses = turnShaft(machine.pulses, beltShaft(machine.drive) * noise, model.now, dt);
  machine.arrived.push(...pulses);
  warmBearing(machine.bearing, machine.drive.speed / machine.drive.nominal, dt);
  for (const button of ['start', 'stop', 'reset'] as const) {
    machine.held[button] = Math.max(0, machine.held[button] - dt);
  }
};

/** Moves the plant on by whole steps of 5 ms; the rest of `by` is left for the next call. */
export const advance = (model: PlantModel, by: Micros): void => {
  const end = model.now + by;
  while (model.now + STEP <= end) {
    const dt = STEP / 1_000_000;
    for (const machine of Object.values(model.machines)) stepMachine(model, machine, dt);
    turnDrive(model.feeder, model.feederStarted, dt);
    model.now += STEP;
    if (model.now < model.nextScan) continue;
    scanAll(model);
    model.nextScan = model.now + model.scan + Math.floor((model.random() * 2 - 1) * model.jitter);
  }
};
