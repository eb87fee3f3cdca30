import type { Finding } from '../judge/index.ts';
import type { Absence, Outcome, Reason } from '../measure/index.ts';

export interface SourceNow {
  readonly name: string;
  readonly connected: boolean;
  readonly answers: number;
  readonly lost: number;
  readonly reconnects: number;
}

export interface SignalNow {
  readonly name: string;
  readonly unit: string;
  /** Name of the state, or the bounds in `unit`; undefined while absent. */
  readonly state?: string;
  readonly low?: number;
  readonly high?: number;
  readonly absent?: Absence;
  /** Seconds since the reading can last have been true. */
  readonly age?: number;
}

export interface InterlockNow {
  readonly name: string;
  readonly title: string;
  readonly machine: string;
  readonly testing: boolean;
  /** Number of the trial that runs; 0: none. */
  readonly trial: number;
  readonly waits: readonly Reason[];
  readonly outcome?: Outcome;
}

export interface Now {
  readonly site: string;
  readonly title: string;
  readonly utc: string;
  readonly window?: { readonly id: string; readonly opened: string };
  readonly sources: readonly SourceNow[];
  readonly signals: readonly SignalNow[];
  readonly interlocks: readonly InterlockNow[];
}

/** A finding as it travels, with its sentence. */
export interface FindingTold {
  /** Place in the window's list of findings, from 0. */
  readonly index: number;
  readonly interlock: string;
  readonly finding: Finding;
  readonly text: string;
}

export interface WindowNow {
  readonly window: string;
  readonly standing: 'open' | 'closed' | 'interrupted';
  readonly opened: string;
  readonly findings: readonly FindingTold[];
}

/** Every error answer. `code` for programs, `message` for people. */
export interface Trouble {
  readonly code: string;
  readonly message: string;
}
