/** The plant without sockets: physics, control logic, hands, faults. Pure and deterministic by seed. */
export { FAULTS, type Fault, isFault } from './faults.ts';
export { applyHand, type HandAnswer, type HandCommand } from './hands.ts';
export { COILS, coilsOf, type MapEntry, NAMESPACE, PLANT_MAP, REGISTERS, registersOf } from './map.ts';
export {
  advance,
  createModel,
  type MachineName,
  type PlantModel,
  type PlantOptions,
  plantFault,
} from './plant-model.ts';
export { type Sample, simulate } from './simulate.ts';
