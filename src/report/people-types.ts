import type { Amendment, Attempt, WindowSigning } from '../record/index.ts';

/** What a person saw or heard in place of a signal. */
export interface AttestationReport {
  readonly entry: number;
  readonly utc: string;
  readonly by: string;
  readonly machine: string;
  /** horn-heard, motion-stopped, feed-stopped, no-stop-pressed. */
  readonly what: string;
  readonly where?: string;
}

/** A sheet that was filled in by hand and entered later; nothing in it was measured or judged here. */
export interface TranscribedReport {
  readonly entry: number;
  readonly utc: string;
  /** Who entered it. */
  readonly enteredBy: string;
  readonly sheet: string;
  /** Who filled it in, and when, as it says there. */
  readonly by: string;
  readonly on: string;
  readonly values: Readonly<Record<string, string>>;
}

/** Attempts at one interlock over all windows up to the one that is told of; none is ever taken away. */
export interface AttemptsReport {
  readonly interlock: string;
  readonly attempts: readonly Attempt[];
}

/** What people signed, attested, corrected and copied in on a window. Plain JSON. */
export interface PapersReport {
  readonly signing: WindowSigning;
  readonly attestations: readonly AttestationReport[];
  readonly amendments: readonly Amendment[];
  readonly transcribed: readonly TranscribedReport[];
}
