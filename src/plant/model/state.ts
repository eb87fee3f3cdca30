import type { Micros } from '../../measure/index.ts';
import type { Fault } from './faults.ts';
import type { Feeder } from './feeder.ts';
import type { MachineModel } from './machine.ts';

export type MachineName = 'E1' | 'C2';

export interface PlantOptions {
  readonly seed: number;
  /** Controller cycle and the most by which a scan comes early or late, µs; 20 ms and 2 ms. */
  readonly scan?: Micros;
  readonly jitter?: Micros;
  /** Fraction by which speed ripples from step to step, ±; 0.0003. */
  readonly noise?: number;
  readonly fault?: Fault;
}

/** Everything of the plant; moved by `advance` alone. Times in µs from the start. */
export interface PlantModel {
  readonly machines: Readonly<Record<MachineName, MachineModel>>;
  readonly feeder: Feeder;
  heartbeat: number;
  revision: number;
  /** Only every so many cycles are done in time. */
  overrun: number;
  cycles: number;
  /** The controller has no power until then. */
  offUntil: Micros;
  /** Up to here the physics have been worked out, and up to here they were asked for. */
  now: Micros;
  asked: Micros;
  nextStep: Micros;
  nextScan: Micros;
  /** The scan's place on the undisturbed grid. */
  dueScan: Micros;
  readonly scan: Micros;
  readonly jitter: Micros;
  readonly noise: number;
  readonly random: () => number;
  /** What the controller shows, by signal name; renewed once a scan. */
  image: Readonly<Record<string, number>>;
  scans: number;
  scannedAt: Micros;
}
