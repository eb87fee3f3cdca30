import type { Method, WindowVerdict } from '../../judge/index.ts';
import type { Instant, Reason } from '../../measure/index.ts';
import type { RegisterLife } from '../../record/index.ts';
import type { Book } from '../../rulebook/index.ts';
import type { PersonReport, RevisionReport } from '../types.ts';

/** A book as it was entered: from `at` on it was the one in force. */
export interface BookPast {
  readonly entry: number;
  readonly at: Instant;
  readonly hash: string;
}

/** What one window says of one interlock. */
export interface InterlockPast {
  /** `machine.interlock`. */
  readonly name: string;
  readonly method: Method;
  /** As entered; of an interrupted window at most inconclusive. */
  readonly verdict: WindowVerdict;
  /** Trials that were begun. */
  readonly trials: number;
  /** It acted, or should have, without being under test: partial evidence. */
  readonly demand: boolean;
}

/** An entry on a window whose body `record` knows. */
export interface Noted {
  readonly entry: number;
  readonly at: Instant;
  readonly subject: string;
  readonly actor: string;
  readonly body: Readonly<Record<string, unknown>>;
}

export interface WindowPast {
  readonly id: string;
  /** Number of the entry that opened it. */
  readonly entry: number;
  readonly opened: Instant;
  readonly closed?: Instant;
  /** Number of the entry that ended it. */
  readonly ended?: number;
  readonly standing: 'open' | 'closed' | 'interrupted';
  /** A real trip outside any test, kept as a window that nobody opened. */
  readonly demand: boolean;
  readonly people: readonly PersonReport[];
  readonly note: string;
  /** By machine, at the beginning and at the end of the window. */
  readonly revisions: readonly RevisionReport[];
  readonly bookHash: string;
  readonly engine: number;
  readonly toolVersion: string;
  readonly interlocks: readonly InterlockPast[];
  readonly signatures: readonly Noted[];
  readonly amendments: readonly Noted[];
  readonly transcribed: readonly Noted[];
  readonly comments: readonly Noted[];
}

/** A statement of what program a controller runs: from `at` on, as far as anybody saw. */
export interface RevisionPast {
  readonly entry: number;
  readonly at: Instant;
  /** Name of the machine whose tag shows it, or for which it was typed in. */
  readonly machine: string;
  readonly text: string;
  readonly quality: 'tag' | 'typed';
  /** The one before it was still read then; undefined: nobody looked in between. */
  readonly lastSeen?: Instant;
  /** Window in which it was stated; '' outside of any. */
  readonly window: string;
}

/** Something that cannot be right and means that the protection is not there. */
export interface DangerPast {
  readonly entry: number;
  readonly at: Instant;
  readonly interlock: string;
  readonly reason: Reason;
  readonly window: string;
}

/** Which interlocks are to be proved again after a change, as entered. */
export interface ScopePast {
  readonly entry: number;
  readonly at: Instant;
  readonly by: string;
  readonly change: string;
  readonly revision: string;
  readonly machines: readonly string[];
  /** By interlock: why. */
  readonly prove: Readonly<Record<string, string>>;
  readonly approver?: string;
}

/** What a log says of the past, without its answers. Everything in the order of its entries. */
export interface History {
  readonly log: string;
  readonly site: string;
  /** By hash. */
  readonly books: ReadonlyMap<string, Book>;
  readonly bookEntries: readonly BookPast[];
  readonly windows: readonly WindowPast[];
  readonly revisions: readonly RevisionPast[];
  readonly dangers: readonly DangerPast[];
  /** Deferrals, impairments, punch items, bypasses, each with its life. */
  readonly register: readonly RegisterLife[];
  readonly scopes: readonly ScopePast[];
  /** Time of the last entry. */
  readonly last: Instant;
}
