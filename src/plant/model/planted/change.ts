import type { Fault } from '../faults.ts';
import type { MachineModel } from '../machine.ts';
import type { PlantModel } from '../state.ts';

/** What a fault changes at leg 1, or in the plant. */
type Change = (leg: MachineModel, model: PlantModel) => void;
export type Changes = Readonly<Partial<Record<Fault, Change>>>;
export type AllChanges = Readonly<Record<Fault, Change>>;
