import type { Mark, Stimulus } from '../judge/index.ts';
import type { Absence, Micros, Outcome, Segment, SignalId } from '../measure/index.ts';
import type { Book, InterlockId } from '../rulebook/index.ts';

/** One thing that a signal does. Values are in the unit of the signal, or state codes. */
export type Move =
  | { readonly kind: 'step'; readonly at: Micros; readonly value: number }
  /** Without `at`: when the move before it is over. `perSecond` is the size of the slope, `lasts` its time. */
  | {
      readonly kind: 'ramp';
      readonly at?: Micros;
      readonly value: number;
      readonly pace: { readonly perSecond: number } | { readonly lasts: Micros };
    }
  /** Counts upward from what it was; whole pulses. */
  | { readonly kind: 'count'; readonly at: Micros; readonly perSecond: number }
  /** Goes up and down around what it was, by ± `by`, once in `every`. */
  | { readonly kind: 'waver'; readonly at: Micros; readonly by: number; readonly every: Micros };

/** What lies over a signal for a time, whatever moves beneath; the last one written wins. */
export interface Cover {
  readonly from: Micros;
  readonly until: Micros;
  readonly what:
    | { readonly kind: 'value'; readonly value: number }
    /** Answers keep coming, and say what was there at `from`. */
    | { readonly kind: 'frozen' }
    /** No reading at all. */
    | { readonly kind: 'silent' }
    | { readonly kind: 'absent'; readonly absence: Absence }
    | { readonly kind: 'flags'; readonly flags: number };
}

/** A signal over time, from second 0. */
export interface Line {
  readonly signal: SignalId;
  readonly start: number;
  readonly moves: readonly Move[];
  readonly covers: readonly Cover[];
  /** ± around each value, in place of the signal's own resolution and accuracy. */
  readonly doubt?: number;
}

/** How the signals are read. */
export interface Polling {
  readonly every: Micros;
  readonly phase: Micros;
  readonly age: Micros;
  /** The controller shows new values only so often; 0: at once. */
  readonly scan: Micros;
  /** All signals of a poll come in one answer. */
  readonly oneAnswer: boolean;
  /** Signals that never change are read once a second only; between these spans, the others a few times a second. */
  readonly sparse?: readonly { readonly from: Micros; readonly until: Micros }[];
}

/** An interlock does what it should, all effects in time; buttons are pressed where the machine has them. */
export interface Acting {
  readonly interlock: InterlockId;
  readonly from: Micros;
  /** Effects that last only while the cause does go away. */
  readonly clears?: Micros;
  /** Somebody resets: alarms and trip go away. */
  readonly reset?: Micros;
  /** Somebody starts: the machine runs again; without it, with the reset. */
  readonly start?: Micros;
}

/** A rehearsal: signals over time, what people do, and who is under test. */
export interface Play {
  readonly book: Book;
  readonly polling: Polling;
  readonly lasts: Micros;
  /** Signals without a line are as they are while all is well. */
  readonly lines: readonly Line[];
  readonly acting: readonly Acting[];
  /** Buttons pressed and whole outages: laid over the lines; `signal` undefined: over all. */
  readonly covers: readonly (Cover & { readonly signal?: SignalId })[];
  readonly marks: readonly Mark[];
  /** Undefined: no window is open, unless a mark opens one. */
  readonly window?: { readonly from?: Micros; readonly until?: Micros };
  readonly stimuli: readonly Stimulus[];
}

/** What a scenario says must come out. `line` is where it stands in its file. */
export type Expectation = { readonly line: number } & (
  | {
      readonly kind: 'verdict';
      readonly interlock: InterlockId;
      /** 0: the window. */
      readonly trial: number;
      /** Empty: the verdict as a whole. */
      readonly aspect: string;
      readonly outcome: Outcome;
      readonly codes: readonly string[];
    }
  | { readonly kind: 'trials'; readonly interlock: InterlockId; readonly count: number }
  | {
      readonly kind: 'standing';
      readonly interlock: InterlockId;
      readonly of: 'asFound' | 'asLeft';
      readonly outcome: Outcome;
    }
  | { readonly kind: 'proved'; readonly interlock: InterlockId; readonly segments: readonly Segment[] }
  /** A code that must be told (or must not), as an event or as what an interlock waits for. */
  | {
      readonly kind: 'told';
      readonly interlock?: InterlockId;
      readonly code: string;
      readonly never: boolean;
    }
);

export interface Scenario {
  readonly title: string;
  readonly play: Play;
  readonly expectations: readonly Expectation[];
}
