import { soundDrive } from '../drive.ts';
import type { Fault } from '../faults.ts';
import { newFeederProgram } from '../feeder.ts';
import { newSettings } from '../settings.ts';
import { newShowing } from '../showing.ts';
import type { PlantModel } from '../state.ts';
import { newWiring } from '../wiring.ts';
import type { AllChanges } from './change.ts';
import { EFFECTS } from './effects.ts';
import { EVIDENCE } from './evidence.ts';
import { HAZARDS } from './hazards.ts';
import { LATCH } from './latch.ts';
import { SPEED } from './speed.ts';

const CHANGES: AllChanges = { ...SPEED, ...HAZARDS, ...EFFECTS, ...LATCH, ...EVIDENCE };

/** Changes the program, the wiring or what people do, so that the fault is there. */
export const plantFault = (model: PlantModel, fault: Fault): void => {
  CHANGES[fault](model.machines.E1, model);
};

/** Puts leg 1 and all that a fault can touch right again, its normal included. */
export const repair = (model: PlantModel): void => {
  const { E1, C2 } = model.machines;
  Object.assign(E1.settings, newSettings(E1.settings.targets, E1.drive.nominal));
  Object.assign(E1.wiring, newWiring());
  Object.assign(E1.drive, soundDrive());
  E1.memory.bypass = false;
  for (const { showing } of [E1, C2]) Object.assign(showing, newShowing());
  Object.assign(model.feeder.program, newFeederProgram());
  model.overrun = 1;
};
