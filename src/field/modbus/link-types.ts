import type { Instant } from '../../measure/index.ts';
import type { Line, Table } from '../../signal/index.ts';
import type { Suspicion } from './suspicion.ts';
import type { Foul } from './wire.ts';

/** What came of one question. */
export type Asking = { readonly sent: Instant; readonly received: Instant } & (
  | { readonly words: readonly number[] }
  /** Exception code of the device. */
  | { readonly refused: number }
  /** No answer. `guilty`: of this question itself, not of one beside it. */
  | { readonly foul: Foul; readonly guilty: boolean }
);

export interface Question {
  readonly unit: number;
  readonly table: Table;
  /** 0–65535; 1–125 registers or 1–2000 bits. */
  readonly at: number;
  readonly count: number;
  /** Milliseconds that the device may take, once what was asked before is answered. */
  readonly timeout: number;
}

export interface LinkOptions {
  readonly line: Line;
  /** Milliseconds for the connection to be made. */
  readonly deadline: number;
  /** Questions on their way at once; 1 without transaction ids, whatever is said here. */
  readonly inFlight: number;
  /** Milliseconds between an answer and the next question. */
  readonly pause: number;
  /** What was in doubt on an earlier connection of this line stays in doubt. */
  readonly suspicion?: Suspicion;
}

export interface LinkEars {
  /** A question can be asked again, where `room` has said no. */
  room(): void;
  /** Without ids: the unit has said more than it was asked. */
  doubted(unit: number): void;
  /** The connection is over, not by `destroy`; its questions have been settled. */
  ended(foul: Foul): void;
}

/**
 * One connection. After a foul on TCP it is destroyed, and never used again. Without transaction ids it stays, and the
 * unit is in doubt (see `Suspicion`): while `free` says no, it must not be asked.
 */
export interface ModbusLink {
  /** Whether a question can leave now. */
  room(): boolean;
  /** Why the connection has ended; undefined while it stands. */
  foul(): Foul | undefined;
  /** The unit may be asked: no late answer of it is feared. */
  free(unit: number): boolean;
  /** Never throws; `done` is called once, later. Only where `room` says so. */
  ask(question: Question, done: (got: Asking) => void): void;
  /** Questions that are asked in `work` leave in one go. */
  together(work: () => void): void;
  destroy(): Promise<void>;
}

export interface Linking {
  readonly link: Promise<ModbusLink | Foul>;
  cancel(): void;
}
