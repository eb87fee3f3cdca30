import type { Interval, Micros, SignalId } from '../measure/index.ts';
import type { SignalDef, Source } from '../signal/index.ts';

/** Index of an interlock in the book. */
export type InterlockId = number & { readonly id: 'interlock' };

/** `factor × reference + offset`, in the unit of the signal it is compared with. */
export interface Level {
  readonly of: 'absolute' | 'normal' | 'nameplate' | 'tag';
  /** Where `of` is tag: the signal that holds the reference (a set point, a set speed), in the unit compared with. */
  readonly tag?: SignalId;
  /** 0 where `of` is absolute. */
  readonly factor: number;
  readonly offset: number;
}

export type Side = 'below' | 'above';

export type Cause =
  | {
      readonly kind: 'level';
      readonly signal: SignalId;
      readonly side: Side;
      readonly setPoint: Level;
      /** ± around the set point; same form, a difference. */
      readonly tolerance: Level;
      /** The value is back in its clear band beyond this level (above it for `below`, below it for `above`). */
      readonly clears: Level;
    }
  | { readonly kind: 'contact'; readonly signal: SignalId; readonly state: number }
  /** No pulse for `after`: a count that stands still, or a speed that reads zero. */
  | { readonly kind: 'no-pulses'; readonly signal: SignalId; readonly after: Micros }
  /** Held between two levels, beyond neither, for `hold`: what must not act there is told by effects that stay. */
  | {
      readonly kind: 'band';
      readonly signal: SignalId;
      readonly side: Side;
      /** The edge nearer to normal, and the farther one. */
      readonly near: Level;
      readonly far: Level;
      readonly hold: Micros;
    }
  /** The sensor is declared faulty: wire-break, short circuit, a fault code in place of a value. */
  | { readonly kind: 'sensor-fault'; readonly signal: SignalId }
  /** No news of the signal, whatever the reason, for `after`: loss of communication. */
  | { readonly kind: 'silent'; readonly signal: SignalId; readonly after: Micros }
  /** A value that should move does not: it changes by no more than `within` for `after`. */
  | { readonly kind: 'stuck'; readonly signal: SignalId; readonly within: number; readonly after: Micros }
  /** A count of the controller's life begins anew: its program was started again. */
  | { readonly kind: 'restart'; readonly signal: SignalId }
  /** At least `need` of the causes at once. `signal` is that of the first. */
  | {
      readonly kind: 'group';
      readonly signal: SignalId;
      readonly need: number;
      readonly of: readonly Cause[];
    };

/** How a measured interval is held against an allowed one (JCGM 106, ILAC-G8). */
export type Decision =
  | { readonly rule: 'bounds' }
  /** Acceptance limits drawn in by `r` times the expanded uncertainty. */
  | { readonly rule: 'guard-band'; readonly r: number }
  | { readonly rule: 'simple' };

export interface Delay {
  readonly time: Micros;
  readonly tolerance: Micros;
  readonly onReturn: 'resets' | 'accumulates';
}

/** A one-sided bound that law or the hazard analysis sets; judged apart from set point ± tolerance. */
export interface Limit {
  readonly side: 'no-lower-than' | 'no-higher-than';
  readonly level: Level;
  readonly inclusive: boolean;
  readonly judgedAt: 'level' | 'effect';
  readonly basis: string;
}

/** A signal in a state. */
export interface Condition {
  readonly signal: SignalId;
  readonly state: number;
}

export interface Armed {
  readonly when: readonly Condition[];
  /** The conditions have held for this long (start-up inhibit). */
  readonly after: Micros;
}

export type EffectClass = 'alarm' | 'trip' | 'command' | 'feedback' | 'motion' | 'feed';

export interface Effect {
  /** `machine.role` of what changes. */
  readonly name: string;
  readonly signal: SignalId;
  readonly becomes:
    | { readonly kind: 'state'; readonly state: number }
    | { readonly kind: 'level'; readonly side: Side; readonly level: Level }
    /** The state it already has must stay ("downstream keeps running"). */
    | { readonly kind: 'stays'; readonly state: number };
  readonly class: EffectClass;
  /** From the cause reaching its set point. */
  readonly within: Micros;
  readonly notBefore: Micros;
  /** Must come after the effects with these indexes of the same interlock. */
  readonly after: readonly number[];
  /** Held until a person resets, although the cause has cleared; or only while the cause lasts; or not judged. */
  readonly until: 'reset' | 'cause-clears' | 'unstated';
  /** Brought about through another machine's logic, not by the interlock's own output. */
  readonly cascade: boolean;
}

/** Where effects that last only while the cause does must go away again; judged on the way back. */
export interface Release {
  readonly at: Level;
  readonly tolerance: Level;
}

/** Several trials must agree: so many, with trip points no farther apart than `within` (a difference). */
export interface Repeat {
  readonly trials: number;
  readonly within: Level;
}

/** How an interlock stays proved, and what its proof rests on. It decides no verdict. */
export interface Upkeep {
  readonly proof?: {
    /** From one passed test to the next, at most. */
    readonly every: Micros;
    /** Share of it by which a test may be late. */
    readonly grace: number;
    /** Ways of testing that count; undefined: every way. */
    readonly methods?: readonly string[];
  };
  /** Tags, routines, timers, cards: names by which a change of them would be told. */
  readonly dependsOn: readonly string[];
  readonly device?: { readonly tag?: string; readonly serial?: string; readonly location?: string };
}

export interface Interlock {
  readonly id: InterlockId;
  /** `machine.interlock`, e.g. `E1.underspeed-stop`. */
  readonly name: string;
  readonly machine: number;
  readonly hazard: string;
  readonly title: string;
  readonly cause: Cause;
  readonly delay?: Delay;
  readonly limit?: Limit;
  readonly release?: Release;
  readonly repeat?: Repeat;
  /** `bounds` where nothing is said. */
  readonly decision?: Decision;
  readonly armed: Armed;
  readonly effects: readonly [Effect, ...Effect[]];
  /** Quiet time before a trial counts. */
  readonly baseline: Micros;
  /** The cause has dwelt in its clear band for this long: the trial is over, a latch is proved. */
  readonly dwell: Micros;
  /** From the hazardous deviation to the harm, if nothing acted: what protects must come sooner. */
  readonly processSafetyTime?: Micros;
  readonly upkeep?: Upkeep;
}

/** The running value that percentages of a signal refer to. */
export interface Normal {
  readonly signal: SignalId;
  readonly from:
    | { readonly kind: 'declared'; readonly value: Interval }
    /** What the controller itself uses, in the unit of the signal. */
    | { readonly kind: 'tag'; readonly signal: SignalId }
    /** From a steady span of the window: spread at most `steady` of the value during `over`. */
    | { readonly kind: 'learned'; readonly over: Micros; readonly steady: number };
  readonly nameplate?: Interval;
  /** Largest fraction by which the normal may differ from the nameplate (0.05). */
  readonly allowance: number;
  /** What must give the normal too: so many of its units for one unit of the signal (a drive's reference × the gear). */
  readonly against?: readonly { readonly signal: SignalId; readonly factor: number }[];
}

export interface Machine {
  readonly index: number;
  readonly name: string;
  readonly title: string;
  readonly kind: string;
  readonly roles: Readonly<Record<string, SignalId>>;
  readonly normals: readonly Normal[];
  /** What a person does at the machine, and what takes its protection away; each an active state. */
  readonly stops: readonly Condition[];
  readonly resets: readonly Condition[];
  readonly starts: readonly Condition[];
  readonly bypasses: readonly Condition[];
  readonly forces: readonly Condition[];
  /** The trip bit in its tripped state, where the controller shows one. */
  readonly tripped: readonly Condition[];
  /** State of the run command that means "run". */
  readonly running: readonly Condition[];
  /** Output and alarm signals: a change of one that nobody expects is a finding. */
  readonly outputs: readonly SignalId[];
  /** The sound is switched off; indication and trip stand. */
  readonly silences?: readonly Condition[];
  /** Feedback of the motor in its running state, and measured motion of its shafts or belt. */
  readonly feedbacks?: readonly Condition[];
  readonly motions?: readonly SignalId[];
  /** From the command's end to standstill, at most. */
  readonly stopsWithin?: Micros;
  /** A bypass may last this long. */
  readonly bypassLimit?: Micros;
  /** The raw input beside the bit or value that the program makes of it: they must agree. */
  readonly mirrors?: readonly { readonly raw: SignalId; readonly shown: SignalId }[];
  /** Set points, timers, learned normals: a change of one that nobody recorded is a finding. */
  readonly constants?: readonly SignalId[];
  /** A counter that shows that the controller lives. */
  readonly heartbeat?: SignalId;
  /** Number or text that identifies the program. */
  readonly revision?: SignalId;
  readonly feeds: readonly number[];
}

/** What a site asks of its records. No verdict depends on it. */
export interface RecordDemands {
  /** Whoever reviews must not have tested. */
  readonly independentReviewer: boolean;
  /** Without these signatures a record says that it is not complete. */
  readonly signatures: readonly ('performed' | 'witnessed' | 'reviewed')[];
}

/** The resolved input of a judgement: everything that decides a verdict, and what the records must have. Plain JSON. */
export interface Book {
  readonly site: string;
  readonly title: string;
  readonly sources: readonly Source[];
  readonly signals: readonly SignalDef[];
  readonly machines: readonly Machine[];
  readonly interlocks: readonly Interlock[];
  readonly records?: RecordDemands;
}
