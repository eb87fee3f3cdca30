/** What canonical text can hold (RFC 8785: I-JSON). */
export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

export const KINDS = [
  'genesis',
  'daemon-started',
  'daemon-stopped',
  'book',
  'window-opened',
  'window-closed',
  'window-interrupted',
  'mark',
  'trace',
  'finding',
  'verdict',
  'source-lost',
  'source-back',
  'source-refused',
  'source-note',
  'clock-stepped',
  'revision',
  'contradiction',
  'clock',
  'key',
  'restored',
  'sealed',
  'person',
  'signature',
  'amendment',
  'transcribed',
  'register',
  'scope',
  'session',
  'comment',
  'step',
] as const;
export type EntryKind = (typeof KINDS)[number];

/** One entry of the verification log. Never rewritten; a new version of a kind only adds. */
export interface Entry {
  readonly version: 1;
  /** 0 is the genesis. */
  readonly seq: number;
  readonly kind: EntryKind;
  /** What it is about: a window id, an interlock, a source; '' for the log itself. */
  readonly subject: string;
  /** Who caused it: a person's name as stated, or `daemon`. */
  readonly actor: string;
  /** RFC 3339, UTC. */
  readonly utc: string;
  /** Microseconds on the machine's monotonic clock since `boot` began. */
  readonly monotonic: number;
  /** Identity of the daemon's run that the monotonic time belongs to. */
  readonly boot: string;
  readonly body: { readonly [key: string]: Json };
}

/** SHA-256 as lower-case hex; hashing enters from outside. */
export type Hash = (bytes: Uint8Array) => string;

/** A root over the first `size` entries (RFC 9162, 2.1). */
export interface Checkpoint {
  readonly size: number;
  readonly root: string;
}

/** One place where the log is not what was written. */
export interface Damage {
  /** Entry number; undefined where the damage is not in one entry. */
  readonly entry?: number;
  readonly reason: { readonly code: string; readonly params: Readonly<Record<string, string | number>> };
}

/** Takes one damage at a time. */
export type Report = (code: string, params: Damage['reason']['params'], entry?: number) => void;
