import type {
  Instant,
  Interval,
  Outcome,
  Readings,
  Reason,
  Segment,
  SignalId,
  Span,
} from '../measure/index.ts';
import type { InterlockId } from '../rulebook/index.ts';
import type { RegionCell } from './region.ts';

/** Changes whenever the same input could give other findings. Stands in every window. */
export type Engine = number;

/** How the cause was made to move. What it can prove stands in `segmentsOf`. */
export const METHODS = ['real', 'blocked', 'injected', 'heated', 'displaced', 'forced', 'unstated'] as const;
export type Method = (typeof METHODS)[number];

/** What a person saw or heard, in place of a signal. */
export const ATTESTATIONS = ['horn-heard', 'motion-stopped', 'feed-stopped', 'no-stop-pressed'] as const;
export type Attestation = (typeof ATTESTATIONS)[number];

/** An interlock to be exercised, and how. While its sensor is substituted, its signal is cause, never evidence. */
export interface Stimulus {
  readonly interlock: InterlockId;
  readonly method: Method;
}

/** What happened beside the readings. */
export type Mark =
  | {
      readonly code: 'window-opened';
      readonly at: Instant;
      readonly window: string;
      /** Interlocks under test; the others are watched for demands. Empty: the window records a demand. */
      readonly stimuli: readonly Stimulus[];
    }
  | { readonly code: 'window-closed'; readonly at: Instant }
  /** `interlock`: the NOW of a countdown for it. */
  | {
      readonly code: 'now';
      readonly at: Instant;
      readonly by: string;
      readonly text: string;
      readonly interlock?: InterlockId;
    }
  | {
      readonly code: 'attested';
      readonly at: Instant;
      readonly by: string;
      readonly machine: number;
      readonly what: Attestation;
      /** From where it was seen or heard, as the person says; nothing is judged by it. */
      readonly where?: string;
    }
  /** What the instrument at the sensor showed when the interlock acted; `value` with its doubt, in the unit of the signal. */
  | {
      readonly code: 'observed';
      readonly at: Instant;
      readonly by: string;
      readonly interlock: InterlockId;
      readonly value: Interval;
      readonly instrument: string;
    }
  | {
      readonly code: 'adjusted';
      readonly at: Instant;
      readonly by: string;
      readonly interlock: InterlockId;
      readonly text: string;
    }
  | {
      readonly code: 'trial-aborted';
      readonly at: Instant;
      readonly by: string;
      readonly interlock: InterlockId;
      readonly text: string;
    }
  | {
      readonly code: 'bypassed';
      readonly at: Instant;
      readonly by: string;
      readonly interlock: InterlockId;
      readonly text: string;
    }
  | {
      readonly code: 'clock-stepped';
      readonly at: Instant;
      /** By so many µs. */
      readonly by: number;
      /** Whose clock; undefined: ours. */
      readonly source?: number;
      /** It was not set before this instant. */
      readonly since?: Instant;
    }
  | {
      readonly code: 'revision';
      readonly at: Instant;
      readonly machine: number;
      readonly text: string;
      readonly quality: 'tag' | 'typed';
    }
  /** The normal that the last passed window rested on, of the signal that percentages refer to. */
  | {
      readonly code: 'earlier-normal';
      readonly at: Instant;
      readonly interlock: InterlockId;
      readonly value: Interval;
      /** Name of that window. */
      readonly window: string;
    }
  /**
   * The daemon was away until `at`: what happened meanwhile is not known. `restarted`: it had ended, and has begun anew;
   * nothing that it held of the plant stands any more.
   */
  | {
      readonly code: 'interrupted';
      readonly at: Instant;
      readonly from: Instant;
      readonly restarted?: true;
    };

export type Input =
  | { readonly readings: Readings }
  | { readonly mark: Mark }
  /** No reading of this instant, or of one before it, will come: what waited for more of it is judged now. */
  | { readonly until: Instant };

/** One thing that a verdict needs, judged alone. */
export interface Aspect {
  /** set-point, limit, delay, normal, effect:NAME, held:NAME, order, restart, attribution, evidence … */
  readonly name: string;
  readonly outcome: Outcome;
  readonly reason: Reason;
}

/** When an effect came, as an interval; absent times: it did not come. */
export interface EffectSeen {
  readonly name: string;
  readonly signal: SignalId;
  /** It changed after `earliest` and no later than `latest`. */
  readonly changed?: Span;
  /** From the cause reaching its set point, in seconds. */
  readonly response?: Interval;
}

export interface Verdict {
  readonly outcome: Outcome;
  readonly reasons: readonly [Reason, ...Reason[]];
  readonly aspects: readonly Aspect[];
  /** Value of the cause at which the effect was initiated, in the unit of the signal. */
  readonly tripPoint?: Interval;
  /** The same in percent of normal, where the set point is one. */
  readonly tripPercent?: Interval;
  readonly normal?: Interval;
  /** Of the first effect, in seconds. */
  readonly response?: Interval;
  /** Delay that is consistent with every trial, in seconds. */
  readonly delay?: Interval;
  readonly effects: readonly EffectSeen[];
  readonly proved: readonly Segment[];
}

/**
 * How the cause was moved up to the effect, for a step, a ramp and a hold prove different things: a step the delay, a
 * slow ramp the level, a hold just inside that nothing acts there, and just outside that something does.
 */
export interface Course {
  readonly kind: 'step' | 'ramp' | 'hold';
  /** Of a ramp: unit of the signal per second, towards the trip region. */
  readonly rate?: number;
  /** Where it was held (turned), and for how long in seconds, without leaving by more than a quarter of the band. */
  readonly held?: Interval;
  readonly seconds?: number;
  /** It certainly never reached the band: held just inside. */
  readonly inside: boolean;
}

export interface TrialVerdict extends Verdict {
  readonly trial: number;
  readonly method: Method;
  /** How a value was moved: what a step, a ramp and a hold prove differs. */
  readonly course?: Course;
  readonly span: Span;
  readonly standing: 'complete' | 'aborted' | 'interrupted' | 'unfinished';
  /** First trial that reached the trip region, before anybody adjusted anything. */
  readonly asFound: boolean;
}

/** Over all trials of a window. */
export interface WindowVerdict extends Verdict {
  readonly trials: readonly TrialVerdict[];
  /** Trial that the figures are taken from; 0: none. */
  readonly trial: number;
  /** Every pair of level and delay that explains all undoubted trials, as a few rectangles. */
  readonly region?: readonly RegionCell[];
  readonly asFound?: Outcome;
  readonly asLeft?: Outcome;
}

/** `interlock` is -1 where a contradiction concerns none; `demand`: the interlock was not under test. */
export type Finding = {
  readonly at: Instant;
  readonly interlock: InterlockId;
  readonly trial: number;
  readonly demand?: true;
} & (
  | { readonly kind: 'waits'; readonly reasons: readonly Reason[] }
  | { readonly kind: 'event'; readonly reason: Reason }
  | { readonly kind: 'trial'; readonly verdict: TrialVerdict }
  | { readonly kind: 'window'; readonly verdict: WindowVerdict }
  /** Two things that cannot both be right, window or not. `dangerous`: the protection is not there. */
  | {
      readonly kind: 'contradiction';
      readonly machine: number;
      readonly reason: Reason;
      readonly dangerous: boolean;
    }
);
