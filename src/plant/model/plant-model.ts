import type { Micros } from '../../measure/index.ts';
import { newFeeder, scanFeeder, stepFeeder } from './feeder.ts';
import { imageOf } from './image.ts';
import { scan } from './logic.ts';
import { newMachine, readInputs, stepMachine } from './machine.ts';
import { isArmed } from './measuring.ts';
import { plantFault } from './planted/index.ts';
import { seeded } from './random.ts';
import type { PlantModel, PlantOptions } from './state.ts';

const STEP: Micros = 5_000;

const scheduleScan = (model: PlantModel): void => {
  model.dueScan += model.scan;
  model.nextScan = model.dueScan + Math.round((model.random() * 2 - 1) * model.jitter);
};

const scanMachines = ({ E1, C2 }: PlantModel['machines'], now: Micros): void => {
  scan(E1.memory, E1.settings, readInputs(E1, false, false), now);
  scan(C2.memory, C2.settings, readInputs(C2, E1.memory.sendsTrip, E1.memory.sendsAlarm), now);
  for (const { memory, settings, showing, drive } of [E1, C2]) {
    if (memory.opensIsolator) drive.isolated = true;
    if (isArmed(memory, settings, now)) showing.holding = true;
  }
};

const scanAll = (model: PlantModel): void => {
  const { E1, C2 } = model.machines;
  scheduleScan(model);
  model.cycles += 1;
  if (model.now < model.offUntil) {
    for (const machine of [E1, C2]) machine.arrived = { shaft: [], head: [] };
    return;
  }
  if (model.cycles % model.overrun !== 0) return;
  scanMachines(model.machines, model.now);
  scanFeeder(model.feeder, E1.memory.command && E1.inputs.feedback, E1.memory.head.speed === 0, model.now);
  model.heartbeat = (model.heartbeat + 1) % 65_536;
  model.scans += 1;
  model.scannedAt = model.now;
  model.image = imageOf(model);
};

/** A plant at rest. Throws where two scans could change places. */
export const createModel = (options: PlantOptions): PlantModel => {
  const random = seeded(options.seed);
  const model: PlantModel = {
    machines: { E1: newMachine(96, 4, 1.9, random), C2: newMachine(60, 4, 1.6, random) },
    feeder: newFeeder(),
    heartbeat: 0,
    revision: 41,
    overrun: 1,
    cycles: 0,
    offUntil: 0,
    now: 0,
    asked: 0,
    nextStep: STEP,
    nextScan: 0,
    dueScan: 0,
    scan: options.scan ?? 20_000,
    jitter: options.jitter ?? 2_000,
    noise: options.noise ?? 0.0003,
    random,
    image: {},
    scans: 0,
    scannedAt: 0,
  };
  if (!(model.scan > 0 && model.jitter >= 0 && model.jitter * 2 < model.scan)) {
    throw new RangeError('the controller needs a cycle above 0 and a jitter below half of it, both in µs');
  }
  if (options.fault !== undefined) plantFault(model, options.fault);
  scanAll(model);
  return model;
};

const movePhysics = (model: PlantModel, until: Micros): void => {
  const dt = (until - model.now) / 1_000_000;
  for (const machine of Object.values(model.machines)) {
    stepMachine(machine, model.now, dt, 1 + (model.random() * 2 - 1) * model.noise);
  }
  stepFeeder(model.feeder, dt);
  model.now = until;
};

/** Works the physics out up to the time that was asked for, so that a hand acts exactly then. */
export const settle = (model: PlantModel): void => {
  if (model.now < model.asked) movePhysics(model, model.asked);
};

/**
 * Moves the plant on by `by` µs: steps of 5 ms, cut where a scan falls between them. How the time is portioned out
 * over calls changes nothing.
 */
export const advance = (model: PlantModel, by: Micros): void => {
  model.asked += by;
  for (;;) {
    const next = Math.min(model.nextStep, model.nextScan);
    if (next > model.asked) return;
    if (next > model.now) movePhysics(model, next);
    if (next === model.nextStep) model.nextStep += STEP;
    if (next === model.nextScan) scanAll(model);
  }
};
