import { type Drive, newDrive, turnDrive } from './drive.ts';
import { follow, lasted, NEVER } from './memory.ts';

/** The feeder of leg 1 with its gate, and the part of the program that stops it with the leg. Times in µs. */
export interface Feeder {
  readonly drive: Drive;
  started: boolean;
  legStoppedSince: number;
  /** The leg's stop has been passed on, and when that stopped a running feeder. */
  passedOn: boolean;
  stoppedAt: number;
  /** 0 closed, 1 open; it takes seconds to travel. */
  gate: number;
  readonly program: FeederProgram;
}

/** The values of `newFeederProgram` are right; the others can be planted. */
export interface FeederProgram {
  cascadeAfter: number;
  waitsForStandstill: boolean;
  /** It runs only while the leg runs, however it was started. */
  needsLeg: boolean;
  restartsAfter: number;
  gateSticks: boolean;
}

export const newFeederProgram = (): FeederProgram => ({
  cascadeAfter: 0,
  waitsForStandstill: false,
  needsLeg: true,
  restartsAfter: NEVER,
  gateSticks: false,
});

export const newFeeder = (): Feeder => ({
  drive: newDrive(30),
  started: false,
  legStoppedSince: NEVER,
  passedOn: true,
  stoppedAt: NEVER,
  gate: 0,
  program: newFeederProgram(),
});

/** Seconds that the gate travels. */
const TRAVEL = 3;

export const stepFeeder = (feeder: Feeder, dt: number): void => {
  turnDrive(feeder.drive, feeder.started, dt);
  const stride = dt / TRAVEL;
  if (feeder.drive.feedback) feeder.gate = Math.min(1, feeder.gate + stride);
  else if (!feeder.program.gateSticks) feeder.gate = Math.max(0, feeder.gate - stride);
};

/** One scan of the feeder's program. */
export const scanFeeder = (feeder: Feeder, legRuns: boolean, legStands: boolean, now: number): void => {
  const { program } = feeder;
  feeder.legStoppedSince = follow(feeder.legStoppedSince, !legRuns, now);
  if (legRuns) feeder.passedOn = false;
  const late = lasted(feeder.legStoppedSince, now, program.cascadeAfter);
  const due = late && (legStands || !program.waitsForStandstill);
  if (due && (program.needsLeg || !feeder.passedOn)) {
    if (feeder.started) feeder.stoppedAt = now;
    feeder.started = false;
  }
  if (due) feeder.passedOn = true;
  if (!lasted(feeder.stoppedAt, now, program.restartsAfter)) return;
  feeder.started = true;
  feeder.stoppedAt = NEVER;
};
