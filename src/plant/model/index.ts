/** The plant without sockets: physics, control logic, hands, faults. Pure and deterministic by seed. */
export { HAND_COMMAND, type HandAnswer, type HandCommand, readHand } from './command.ts';
export { FAULTS, type Fault, isFault } from './faults.ts';
export { applyHand } from './hands.ts';
export { truthOf } from './image.ts';
export { APPLICATION, type MapEntry, NAMESPACE, PLANT_MAP } from './map.ts';
export { advance, createModel } from './plant-model.ts';
export { type Sample, simulate } from './simulate.ts';
export type { MachineName, PlantModel, PlantOptions } from './state.ts';
export { coilsOf, REGISTERS, registersOf } from './words.ts';
