/**
 * A simulated plant worth testing against: a bucket elevator E1 with its feeder F1, and a belt conveyor C2, behind a
 * controller that speaks Modbus TCP (Application Protocol V1.1b3, functions 01–04) and OPC UA with the same values.
 * It is a test bench, no model of any machine that exists. Proved by tests/rooms/plant.
 */
export { connectHands, type Hands } from './hands-channel.ts';
export {
  FAULTS,
  type Fault,
  HAND_COMMAND,
  type HandAnswer,
  type HandCommand,
  isFault,
  type MachineName,
  type MapEntry,
  NAMESPACE,
  PLANT_MAP,
  type PlantModel,
  type PlantOptions,
  type Sample,
  simulate,
} from './model/index.ts';
export { type Plant, type PlantSettings, startPlant } from './plant.ts';
