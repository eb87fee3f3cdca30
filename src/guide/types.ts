import type { Attestation, Method } from '../judge/index.ts';
import type { Interval, Outcome, Reason, Segment } from '../measure/index.ts';

/**
 * Where a person stands with one interlock of a guided window, in this order: which sensor it is; that nothing hinders
 * a trial; the call between the two people; the movement; what only people can say; over.
 */
export const STAGES = ['identify', 'baseline', 'call', 'move', 'attest', 'done'] as const;
export type Stage = (typeof STAGES)[number];

/** Put right after the tests, one by one. */
export const RESTORATIONS = [
  'targets',
  'covers',
  'bypasses',
  'forces',
  'set-points',
  'horn',
  'operators-told',
] as const;
export type Restoration = (typeof RESTORATIONS)[number];

/** What must be confirmed before a guided window is opened. Their sentences stand in `words`, with the rule behind each. */
export const PRECAUTIONS = [
  'precaution-observes-only',
  'precaution-lock-out',
  'precaution-run-empty',
  'precaution-guards-on',
  'precaution-ignition',
  'precaution-warn-before-start',
  'precaution-no-bypass',
  'precaution-stop-at-hand',
  'precaution-local-rules',
] as const;
export type Precaution = (typeof PRECAUTIONS)[number];

/** What people do on the way through a guided window; each is an entry of the log. `by`: who. */
export type Step =
  | {
      readonly do: 'identified';
      readonly by: string;
      readonly interlock: string;
      readonly typed: string;
      readonly how: 'typed' | 'scanned';
      /** It names the sensor that is meant; entered also where it does not. */
      readonly matches: boolean;
    }
  /** The sensor is touched, its target moved: from now on it is watched whether only its signal moves. */
  | { readonly do: 'watch-began'; readonly by: string; readonly interlock: string }
  /** What moved meanwhile; entered by the daemon. `alone`: the signal of this interlock did, and no other that could be taken for it. */
  | {
      readonly do: 'watch-ended';
      readonly by: string;
      readonly interlock: string;
      readonly moved: readonly string[];
      readonly alone: boolean;
      /** Why it ended, where nobody ended it: the daemon went away; it took too long. */
      readonly why?: 'interrupted' | 'too-long';
    }
  | { readonly do: 'called'; readonly by: string; readonly interlock: string }
  | { readonly do: 'repeated-back'; readonly by: string; readonly interlock: string }
  /** NOW is at `at` (RFC 3339, UTC): every screen counts down to it. */
  | { readonly do: 'countdown'; readonly by: string; readonly interlock: string; readonly at: string }
  /** `why`: the daemon stopped it, since the interlock was not ready any more, or the daemon had been away. */
  | {
      readonly do: 'countdown-stopped';
      readonly by: string;
      readonly interlock: string;
      readonly why?: 'interrupted' | 'not-ready';
    }
  /** This interlock is over for today, or is begun anew. */
  | { readonly do: 'left'; readonly by: string; readonly interlock: string; readonly why: string }
  | { readonly do: 'taken-up'; readonly by: string; readonly interlock: string }
  | { readonly do: 'restored'; readonly by: string; readonly item: Restoration; readonly note: string };

export interface SaidBy {
  readonly by: string;
  readonly utc: string;
}

/** One interlock of a guided window, as every screen shows it. */
export interface GuidedInterlock {
  readonly name: string;
  readonly title: string;
  readonly machine: string;
  readonly method: Method;
  /** Signal that is the cause, and its unit. */
  readonly signal: string;
  readonly unit: string;
  readonly stage: Stage;
  /** Texts that identify the sensor: the tag of the device where the site names one, and its signal. */
  readonly expects: readonly string[];
  readonly identified?: SaidBy & {
    readonly typed: string;
    readonly how: 'typed' | 'scanned';
    readonly matches: boolean;
  };
  /** Undefined: nobody has asked. `running`: it is watched now; `moved` is what has moved so far. */
  readonly alone?: { readonly running: boolean; readonly moved: readonly string[]; readonly alone: boolean };
  /** What is missing before a trial counts. Empty: nothing. */
  readonly waits: readonly Reason[];
  /** Nothing keeps a trial from beginning; what stands in `waits` all the same is advice. */
  readonly ready: boolean;
  readonly called?: SaidBy;
  readonly repeated?: SaidBy;
  readonly countdown?: SaidBy & { readonly at: string };
  /** Number of the trial that runs; 0: none. */
  readonly trial: number;
  readonly advice?: Reason;
  /** Each trial that is over, in its order. */
  readonly trials: readonly {
    readonly trial: number;
    readonly outcome: Outcome;
    readonly reasons: readonly Reason[];
    readonly tripPoint?: Interval;
    readonly response?: Interval;
    readonly proved: readonly Segment[];
  }[];
  /** How many trials it needs. */
  readonly needs: number;
  /** Over its trials so far, as it would be entered if the window were closed now. */
  readonly outcome?: Outcome;
  /** What only people can say, for effects that no signal shows; `given` once somebody has. */
  readonly attestations: readonly {
    readonly what: Attestation;
    readonly given?: SaidBy & { readonly where?: string };
  }[];
  readonly left?: SaidBy & { readonly why: string };
}

/** A guided window as it stands. The same for whoever looks; it survives reload, loss of network and a restart of the daemon. */
export interface GuideState {
  readonly window: string;
  readonly standing: 'open' | 'closed' | 'interrupted';
  /** Why it was interrupted and does not go on. */
  readonly why?: Reason;
  readonly opened: string;
  readonly people: readonly { readonly name: string; readonly role: string }[];
  readonly permit: string;
  readonly precautions: readonly Precaution[];
  readonly interlocks: readonly GuidedInterlock[];
  /** The one that is on now; '' when all are over. */
  readonly current: string;
  readonly restoration: readonly {
    readonly item: Restoration;
    readonly done?: SaidBy & { readonly note: string };
  }[];
  /** What stands against closing; empty: it may be closed. It may be closed all the same: what is open is then told in the record. */
  readonly open: readonly Reason[];
  /** Times at which the daemon was away while it stood open. */
  readonly gaps: readonly { readonly from: string; readonly to: string }[];
}
