import type { Instant, Micros } from '../measure/index.ts';
import type { Answer } from '../signal/index.ts';

/** Where time comes from. Microseconds since 1970; must not run backwards within a run. */
export interface Clock {
  now(): Instant;
}

/** What the state of a source tells beside its answers. Codes and parameters; texts are made elsewhere. */
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

export interface FieldStats {
  readonly connected: boolean;
  readonly answers: number;
  readonly nothings: number;
  readonly reconnects: number;
  /** Grid slots that passed while the one before was still being asked. */
  readonly overruns: number;
  /** How far the last poll began behind its slot. */
  readonly lateness: Micros;
}

/** An open source. `stop` ends its connection and settles when nothing of it is left. */
export interface OpenSource {
  stop(): Promise<void>;
  stats(): FieldStats;
}
