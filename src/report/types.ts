import type { Method, WindowVerdict } from '../judge/index.ts';
import type { Absence, Instant, Reason, Segment } from '../measure/index.ts';
import type { Book, InterlockId } from '../rulebook/index.ts';
import type { AttemptsReport, PapersReport } from './people-types.ts';

/** What a plot knows of a signal at `t` seconds after the window opened: bounds, or why there are none. */
export type Point =
  | { readonly t: number; readonly low: number; readonly high: number }
  | { readonly t: number; readonly gap: Absence };

/** Points of one signal in order of time, thinned out for drawing; for a state, low = high = its code. */
export interface Series {
  /** Index into `Book.signals`. */
  readonly signal: number;
  readonly points: readonly Point[];
}

/** What one trial looked like. `from` and `to` are seconds after the window opened. */
export interface TrialTrace {
  readonly trial: number;
  readonly from: number;
  readonly to: number;
  readonly cause: Series;
  /** In the order of the interlock's effects. */
  readonly effects: readonly Series[];
}

export interface InterlockReport {
  /** Index into `Book.interlocks`. */
  readonly interlock: InterlockId;
  readonly method: Method;
  readonly verdict: WindowVerdict;
  readonly traces: readonly TrialTrace[];
}

export interface PersonReport {
  readonly name: string;
  readonly role: string;
}

export interface RevisionReport {
  readonly machine: string;
  readonly opened: string;
  readonly closed?: string;
  /** Read from the controller, or typed in by a person. */
  readonly quality: 'tag' | 'typed';
  /** The same of the one at the end, where it came from elsewhere. */
  readonly closedQuality?: 'tag' | 'typed';
}

/** Poll interval that was achieved, in seconds. */
export interface PollReport {
  readonly source: string;
  readonly least: number;
  readonly median: number;
  readonly most: number;
  /** Answers that did not come. */
  readonly lost: number;
}

/** Something that a person said or did during the window; `t` seconds after it opened. */
export interface NoteReport {
  readonly t: number;
  readonly by: string;
  readonly text: string;
}

/** When an interlock last passed before this window; `utc` of the window's end. */
export interface LastPass {
  readonly utc: string;
  readonly window: string;
  /** Parts of the chain that it proved. */
  readonly proved?: readonly Segment[];
}

/** What a report tells that does not stand in the entries of its windows. Plain JSON. */
export interface BesideReport {
  /** By window. */
  readonly attempts?: Readonly<Record<string, readonly AttemptsReport[]>>;
  /** By window and interlock; null where the log has no earlier pass of it. */
  readonly lastPass?: Readonly<Record<string, Readonly<Record<string, LastPass | null>>>>;
  /** What the page calls its windows, where it is of a period. */
  readonly period?: string;
  /** Version of the program that made the page. */
  readonly made?: string;
}

/** Everything that a report of one test window shows. Plain JSON. */
export interface WindowReport {
  readonly version: 1;
  readonly window: string;
  readonly opened: Instant;
  readonly closed?: Instant;
  readonly standing: 'open' | 'closed' | 'interrupted';
  readonly people: readonly PersonReport[];
  readonly revisions: readonly RevisionReport[];
  readonly polling: readonly PollReport[];
  readonly notes: readonly NoteReport[];
  readonly book: Book;
  /** SHA-256 of the book's canonical text. */
  readonly bookHash: string;
  readonly engine: number;
  readonly toolVersion: string;
  /** Identity of the log and its state when the report was made. */
  readonly log?: string;
  readonly checkpoint?: {
    readonly size: number;
    readonly root: string;
    /** Of the last entry under it. */
    readonly utc?: string;
    /** Raw public key of the site and its signature, as hex; a log from before there were keys has neither. */
    readonly key?: string;
    readonly signature?: string;
    /** Of log, root and size, for paper. */
    readonly fingerprint?: string;
  };
  readonly interlocks: readonly InterlockReport[];
  /** A real trip, recorded without a test: partial evidence. */
  readonly demand?: boolean;
  /** Things seen in the window that cannot both be right; `at` in seconds after it opened. */
  readonly contradictions?: readonly {
    readonly at: number;
    readonly dangerous: boolean;
    readonly reason: Reason;
  }[];
  /** What people signed, attested, corrected and copied in; a report that was made without a log has none. */
  readonly papers?: PapersReport;
  /** Attempts at its interlocks, also in earlier windows; only where the log was at hand. */
  readonly attempts?: readonly AttemptsReport[];
  /** By interlock; null where the log has no earlier pass. Absent: nobody looked. */
  readonly lastPass?: Readonly<Record<string, LastPass | null>>;
  /** What a person typed into the sheet: permit, instrument, procedure … by the name of the field. */
  readonly stated: Readonly<Record<string, string>>;
}
