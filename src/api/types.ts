import type { Finding } from '../judge/index.ts';
import type { Absence, Interval, Outcome, Phrase, Reason } from '../measure/index.ts';

/** What is known of a source's clock by asking it. */
export interface SourceClockNow {
  /** So many seconds it is ahead of ours. */
  readonly offset: Interval;
  /** Since when it has not been set, as far as was seen; how often it was asked since. */
  readonly since: string;
  readonly samples: number;
  /** What the site says of it, ± seconds; `contradicts`: it is not so. */
  readonly declaredBound?: number;
  readonly contradicts: boolean;
}

/** Our own clock. */
export interface ClockNow {
  /** So many seconds the machine's UTC is ahead of ours: what it was set by since the daemon began. */
  readonly ahead: number;
  /** How the machine's UTC goes beside its monotonic clock; not before ten minutes. */
  readonly rate?: { readonly ppm: number; readonly doubt: number };
}

/** How often signals are read: asked for, and reached as the mean of the last seconds. Seconds. */
export interface RateNow {
  /** Because a window needs them, an interlock does, nobody does. */
  readonly pace: 'window' | 'watch' | 'slow';
  readonly wanted: number;
  /** Undefined until two answers came. */
  readonly achieved?: number;
}

export interface SourceNow {
  readonly name: string;
  readonly connected: boolean;
  readonly answers: number;
  readonly lost: number;
  readonly reconnects: number;
  /** Polls that fell out because the one before was still being asked. */
  readonly overruns: number;
  readonly rates: readonly RateNow[];
  /** Of a source that can be asked what time it is. */
  readonly clock?: SourceClockNow;
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

/** What whoever moves a cause is told now. Advice only: it is never a finding, and no verdict rests on it. */
export interface AdviceNow extends Reason {
  readonly interlock: string;
  readonly text: string;
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
  readonly advice?: AdviceNow;
}

/** Two things that could not both be right, with the time at which that was certain. */
export interface ContradictionNow {
  /** Counts up over the daemon's run: whoever has seen one can tell it from a new one. */
  readonly number: number;
  readonly utc: string;
  readonly machine: string;
  /** '' where it concerns none. */
  readonly interlock: string;
  readonly dangerous: boolean;
  readonly reason: Reason;
  /** What it is, and what to do. */
  readonly text: string;
  /** Window in whose findings it stands; '' where none was open. */
  readonly window: string;
}

/** A real trip that nobody had announced, recorded as a window of its own. */
export interface DemandNow {
  readonly id: string;
  readonly opened: string;
  readonly standing: WindowNow['standing'];
  /** What acted, or should have; the outcome once the record is closed. */
  readonly interlocks: readonly { readonly name: string; readonly outcome?: Outcome }[];
}

export interface Now {
  readonly site: string;
  readonly title: string;
  readonly utc: string;
  readonly clock?: ClockNow;
  /** Open now; `demand`: nobody opened it, it records a real trip; `said` counts up whenever somebody says or does something. */
  readonly window?: {
    readonly id: string;
    readonly opened: string;
    readonly demand: boolean;
    readonly said: number;
  };
  readonly sources: readonly SourceNow[];
  readonly signals: readonly SignalNow[];
  readonly interlocks: readonly InterlockNow[];
  /** The newest of this run, newest first. */
  readonly contradictions: readonly ContradictionNow[];
  readonly demands: readonly DemandNow[];
}

/** A finding as it travels, with its sentence. */
export interface FindingTold {
  /** Place in the window's list of findings, from 0. */
  readonly index: number;
  readonly interlock: string;
  readonly finding: Finding;
  readonly text: string;
  /** It is about nothing under test, and not dangerous: kept, and told only to whoever asks for everything. */
  readonly aside: boolean;
}

/** What the planner says of an interlock before its test. */
export interface PlanTold {
  readonly interlock: string;
  /** How to test; what cannot be decided as it stands; what is decided by luck only. */
  readonly advice: readonly ReasonTold[];
  readonly undecidable: readonly ReasonTold[];
  readonly notes: readonly ReasonTold[];
}

/** A reason with its sentence; of proofs, times among its parameters are UTC texts. */
export interface ReasonTold extends Phrase {
  readonly text: string;
}

/** Answer to the opening of a window. */
export interface Opened {
  readonly window: string;
  readonly plan: readonly PlanTold[];
}

export interface WindowNow {
  readonly window: string;
  readonly standing: 'open' | 'closed' | 'interrupted';
  readonly opened: string;
  readonly demand: boolean;
  readonly findings: readonly FindingTold[];
  /** What to tell whoever moves the causes, now. */
  readonly advice: readonly AdviceNow[];
}

/** Who enters something: a name as typed, or that of the account which is signed in. */
export interface EnteredBy {
  readonly name: string;
  readonly account?: { readonly id: string; readonly name: string };
}

/**
 * Every error answer. `code` for programs, `message` for people, in English; `params`: what the sentence of the code holds, for
 * whoever tells it in another language.
 */
export interface Trouble {
  readonly code: string;
  readonly message: string;
  readonly params?: Phrase['params'];
}
