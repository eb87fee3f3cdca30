import type { Method } from '../judge/index.ts';
import type { Absence, Interval, Outcome, Phrase, Reason, Segment } from '../measure/index.ts';
import type { AccountRole, RegisterLife } from '../record/index.ts';
import type { CellState, Standing, Urgency } from '../report/index.ts';
import type { EffectClass } from '../rulebook/index.ts';
import type { PlanTold, ReasonTold } from './types.ts';

/** Who is asking, and what that one may do here. */
export interface SessionNow {
  /** `open`: on the machine of the daemon, where nobody signs in; names are as typed. */
  readonly access: 'open' | 'accounts';
  /** Whoever signed in. */
  readonly account?: {
    readonly id: string;
    readonly name: string;
    readonly roles: readonly AccountRole[];
    /** The same with all that they include: whoever is a reviewer may do what a tester may. */
    readonly may: readonly AccountRole[];
  };
  /** Goes with every request that changes something, as the header `x-tripwitness-csrf`. '' where nobody has signed in. */
  readonly csrf: string;
  /** What is sent and answered here can be read and changed on the way: every page says so. */
  readonly withoutTls: boolean;
  readonly site: string;
  readonly title: string;
  readonly tool: string;
}

/** A unit that a signal can be shown in: `value × factor + offset`; a difference is multiplied only. */
export interface UnitChoice {
  readonly unit: string;
  readonly factor: number;
  readonly offset: number;
}

export interface SignalShown {
  readonly name: string;
  readonly source: string;
  readonly unit: string;
  readonly quantity: string;
  /** Names of the states, by code; empty for measured values. */
  readonly states: readonly string[];
  /** Its own unit first. */
  readonly units: readonly UnitChoice[];
  readonly machine?: string;
}

/** Levels of an interlock in the unit of its cause, as far as they are known now. */
export interface LevelsNow {
  readonly normal?: Interval;
  readonly setPoint?: Interval;
  /** Set point ± tolerance. */
  readonly allowed?: Interval;
  readonly clears?: Interval;
  readonly limit?: Interval;
  readonly limitSide?: 'no-lower-than' | 'no-higher-than';
  /** Of a value that is held between two levels: the one nearer to normal, and the farther one. */
  readonly near?: Interval;
  readonly far?: Interval;
}

export interface InterlockShown {
  readonly name: string;
  readonly title: string;
  readonly machine: string;
  readonly hazard: string;
  /** Name of the signal that it acts on. */
  readonly cause: string;
  /** When it acts: `E1.shaft-speed is below 82 % of normal`. */
  readonly acts: Phrase;
  readonly kind: string;
  readonly side?: 'below' | 'above';
  readonly effects: readonly {
    readonly signal: string;
    readonly class: string;
    /** State that it takes; '' for a level. */
    readonly state: string;
    /** It must keep that state: nothing may act. */
    readonly stays: boolean;
    /** Seconds from the cause reaching its set point, at most. */
    readonly within: number;
  }[];
  /** Methods by which its cause can be moved, with what each can prove of the chain. */
  readonly methods: readonly { readonly method: Method; readonly proves: readonly Segment[] }[];
  readonly device?: { readonly tag?: string; readonly serial?: string; readonly location?: string };
  readonly levels: LevelsNow;
}

/** What the site is made of; `levels` as they are known when it is asked. */
export interface BookNow {
  readonly site: string;
  readonly title: string;
  readonly hash: string;
  readonly machines: readonly {
    readonly name: string;
    readonly title: string;
    readonly kind: string;
    /** Revision of its program as last read. */
    readonly revision?: string;
    /** Names of signals that say that a protection is taken away, while they say so. */
    readonly bypassed: readonly string[];
    readonly interlocks: readonly string[];
    readonly signals: readonly string[];
  }[];
  readonly interlocks: readonly InterlockShown[];
  readonly signals: readonly SignalShown[];
}

/**
 * Readings of some signals in columns; those of one signal in order of time. `signal`: index into the names that were
 * asked for; `t`: microseconds after `zero`; `why`: '' or the reason why there is none. Every row is a reading as it was.
 * Where a measured value has more readings than columns, each column keeps its first, the one with the least `low`, the
 * one with the greatest `high`, and its last: a line through the rows covers all that was left out. Of a state and of an
 * absence the first and the last row of each unbroken run are kept, so that no change is moved or hidden.
 */
export interface Rows {
  readonly signal: readonly number[];
  readonly t: readonly number[];
  readonly low: readonly (number | null)[];
  readonly high: readonly (number | null)[];
  readonly why: readonly (Absence | '')[];
}

/**
 * First event (`begin`) of `/api/live`; then `rows` (Rows), every so often. `skipped` (`{rows: number of events}`): this
 * client did not read fast enough; a new `begin` follows, and what was before it is void.
 */
export interface LiveBegin {
  /** Microseconds since 1970, UTC. */
  readonly zero: number;
  readonly signals: readonly string[];
  readonly before: Rows;
}

/** A recorded trace, thinned out to about `width` columns. */
export interface TraceNow {
  readonly zero: number;
  readonly signals: readonly string[];
  /** Span of what was recorded, microseconds after `zero`. */
  readonly from: number;
  readonly to: number;
  /** Readings that stand behind it. */
  readonly readings: number;
  readonly rows: Rows;
}

/** A window of the log, as a line of a list. */
export interface WindowLine {
  readonly window: string;
  readonly opened: string;
  readonly closed?: string;
  readonly standing: 'open' | 'closed' | 'interrupted';
  readonly demand: boolean;
  readonly people: readonly string[];
  readonly interlocks: readonly {
    readonly name: string;
    readonly outcome?: Outcome;
    readonly trials: number;
  }[];
  readonly signed: readonly string[];
  readonly comments: number;
}

/** A line of the arithmetic behind a verdict, with the place on the plot that it speaks of (seconds after the opening). */
export interface ArithmeticLine {
  readonly says: Phrase;
  readonly from?: number;
  readonly to?: number;
  readonly level?: Interval;
}

export interface TrialRecord {
  readonly trial: number;
  readonly outcome: Outcome;
  readonly standing: string;
  /** First trial that reached the trip region, before anybody adjusted anything. */
  readonly asFound: boolean;
  readonly method: Method;
  /** Seconds after the opening. */
  readonly from: number;
  readonly to: number;
  readonly reasons: readonly Reason[];
  readonly tripPoint?: Interval;
  readonly response?: Interval;
  readonly arithmetic: readonly ArithmeticLine[];
  readonly effects: readonly {
    readonly signal: string;
    readonly from?: number;
    readonly to?: number;
    readonly response?: Interval;
  }[];
}

/** Everything about a recorded window but its trace. */
export interface RecordNow {
  readonly window: string;
  /** Microseconds since 1970: the zero of all seconds below. */
  readonly zero: number;
  readonly opened: string;
  readonly closed?: string;
  readonly standing: 'open' | 'closed' | 'interrupted';
  readonly demand: boolean;
  /** Role as a phrase: its code, or what was written in its place. */
  readonly people: readonly { readonly name: Phrase; readonly role: Phrase }[];
  /** What was stated at the opening, by field. */
  readonly stated: Readonly<Record<string, string>>;
  readonly revisions: readonly {
    readonly machine: string;
    readonly opened: string;
    readonly closed?: string;
  }[];
  readonly interlocks: readonly {
    readonly name: string;
    readonly title: string;
    readonly signal: string;
    readonly unit: string;
    readonly method: Method;
    readonly effects: readonly string[];
    /** Of an open window: `not-tested`, without a reason. */
    readonly outcome: Outcome;
    readonly reasons: readonly Reason[];
    readonly proved: readonly Segment[];
    readonly levels: LevelsNow;
    /** Over all trials. */
    readonly tripPoint?: Interval;
    readonly response?: Interval;
    readonly asFound?: Outcome;
    readonly asLeft?: Outcome;
    /** The sums behind the verdict over all trials. */
    readonly arithmetic: readonly ArithmeticLine[];
    readonly trials: readonly TrialRecord[];
  }[];
  readonly contradictions: readonly {
    /** Seconds after the opening. */
    readonly at: number;
    readonly dangerous: boolean;
    readonly reason: Reason;
  }[];
  /** What people said and did. */
  readonly notes: readonly { readonly t: number; readonly by: Phrase; readonly says: Phrase }[];
  readonly comments: readonly CommentNow[];
  readonly fingerprint?: string;
}

export interface CommentNow {
  readonly entry: number;
  readonly utc: string;
  readonly by: string;
  readonly text: string;
  readonly interlock?: string;
  readonly trial?: number;
  /** Seconds after the opening that it speaks of. */
  readonly at?: number;
}

/** What the planner says before a window is opened, and what a test by this method can prove. */
export interface PlanNow {
  readonly plan: PlanTold;
  readonly proves: readonly Segment[];
  readonly cannot: readonly Segment[];
}

export interface MatrixCellNow {
  /** As in `MatrixNow.columns`. */
  readonly effect: string;
  /** Cause and effect belong together. */
  readonly marked: boolean;
  readonly state: CellState;
  /** What the effect must do. */
  readonly wanted?: string;
  readonly window?: string;
  readonly at?: string;
  readonly revision?: string;
  readonly reason?: ReasonTold;
}

export interface MatrixRowNow {
  readonly interlock: string;
  readonly title: string;
  readonly machine: string;
  readonly hazard: string;
  /** When it acts, in English, and as a phrase. */
  readonly cause: string;
  readonly acts: Phrase;
  readonly standing: Standing;
  /** How it would stand without the bypass. */
  readonly beneath?: Standing;
  readonly reasons: readonly ReasonTold[];
  readonly passed?: {
    readonly window: string;
    readonly at: string;
    readonly method: string;
    readonly revision?: string;
  };
  /** The last window that says anything of it, a demand too. */
  readonly last?: {
    readonly window: string;
    readonly at: string;
    readonly outcome: Outcome;
    readonly demand: boolean;
  };
  /** What the last pass proved. */
  readonly proved: readonly Segment[];
  readonly due?: string;
  /** Until then it may be late. */
  readonly grace?: string;
  readonly deferred?: { readonly until: string; readonly id: string };
  readonly items: readonly RegisterLife[];
  /** One for each column. */
  readonly cells: readonly MatrixCellNow[];
  readonly coverage: readonly {
    readonly segment: Segment;
    readonly standing: 'proved' | 'stale' | 'old' | 'never';
    readonly window?: string;
    readonly at?: string;
    readonly method?: string;
  }[];
  /** Parts of the chain without a proof that holds. */
  readonly gaps: readonly ReasonTold[];
}

/** Causes and effects with what is proved of each at `on`. */
export interface MatrixNow {
  readonly log: string;
  readonly site: string;
  readonly title: string;
  readonly on: string;
  readonly bookHash: string;
  readonly columns: readonly {
    readonly name: string;
    readonly machine: string;
    readonly class: EffectClass;
  }[];
  readonly rows: readonly MatrixRowNow[];
}

export interface DueRowNow {
  readonly interlock: string;
  readonly machine: string;
  readonly title: string;
  readonly urgency: Urgency;
  readonly due?: string;
  /** Whole days after that, negative before it. */
  readonly late?: number;
  readonly passed?: { readonly window: string; readonly at: string; readonly method: string };
  readonly reasons: readonly ReasonTold[];
  readonly items: readonly RegisterLife[];
}

/** What is due, the most urgent first. */
export interface DueNow {
  readonly log: string;
  readonly site: string;
  readonly title: string;
  readonly on: string;
  readonly rows: readonly DueRowNow[];
}
