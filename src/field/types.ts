import type { Instant, Micros, SignalId } from '../measure/index.ts';
import type { Answer, Pace } from '../signal/index.ts';

/** Where time comes from. Microseconds since 1970; must not run backwards within a run. */
export interface Clock {
  now(): Instant;
}

/**
 * What the state of a source tells beside its answers. Codes and parameters; texts are made elsewhere. Of Modbus they
 * are: `place` (host:port or path), `unit`, and where one question is meant `function` (1–4), `address`, `count`, `attempt`
 * (the how-many-eth in a row that failed), `elapsed` (ms), `exception` (the device's code); `detail` (what the machine
 * said), `next` (code of the next step).
 */
export interface FieldEvent {
  /** `lost`, `back`: the connection. `refused`: the device said no to an address. `note`: the rest. */
  readonly kind: 'lost' | 'back' | 'refused' | 'note';
  readonly source: number;
  readonly at: Instant;
  /** Of `back`: since when nothing was known. */
  readonly since?: Instant;
  /** Of `back`: polls or publishing intervals that passed without an answer. */
  readonly missed?: number;
  readonly code: string;
  readonly params: Readonly<Record<string, string | number>>;
}

export interface Sink {
  answer(answer: Answer): void;
  event(event: FieldEvent): void;
}

/** From one answer to the next: asked for, and the mean of the last ten seconds or few periods. */
export interface Rate {
  readonly pace: Pace;
  readonly wanted: Micros;
  /** Undefined while fewer than two answers came. */
  readonly achieved: Micros | undefined;
}

export interface FieldStats {
  /** The device has answered last time. */
  readonly connected: boolean;
  readonly answers: number;
  readonly nothings: number;
  readonly reconnects: number;
  /** Grid slots that passed while the one before was still being asked. */
  readonly overruns: number;
  /** How far the last poll began behind its slot. */
  readonly lateness: Micros;
  /** Of the paces that are in use. */
  readonly rates: readonly Rate[];
}

/** An open source. `stop` ends its connection and settles when nothing of it is left. */
export interface OpenSource {
  stop(): Promise<void>;
  /** What carries one of these signals is asked at the window's pace from now on; undefined: nothing is. */
  focus(signals: readonly SignalId[] | undefined): void;
  stats(): FieldStats;
}
