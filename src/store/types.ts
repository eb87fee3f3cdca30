import type { Entry, SignedCheckpoint } from '../record/index.ts';

/** An entry before the writer gives it its number. */
export type Draft = Omit<Entry, 'seq'>;

export interface Batch {
  readonly entries: readonly Draft[];
  readonly blocks: readonly Uint8Array[];
  /** One more entry behind these: it seals the checkpoints so far. */
  readonly seal?: boolean;
}

export interface Appended {
  /** Number of the first entry of the batch. */
  readonly first: number;
  readonly size: number;
  readonly root: string;
}

/** The newest state of a log that is being written. */
export type Head = SignedCheckpoint;

/** What happened when a log was opened, for whoever runs it. */
export interface Opening {
  /** Code of the catalogue, with its parameters. */
  readonly code: 'key-made' | 'key-adopted' | 'rotation-finished' | 'head-unreadable' | 'log-restored-now';
  readonly params: Readonly<Record<string, string | number>>;
}

/** Marks a database file as one of ours: "twqw" as a number (`PRAGMA application_id`, set in schema.sql). */
export const APPLICATION = 1_953_984_887;

/** What is wrong with a log. */
export type LogTrouble =
  | 'missing'
  | 'no-access'
  | 'in-use'
  | 'not-a-log'
  | 'damaged'
  | 'newer'
  | 'other-site'
  | 'keys'
  | 'no-checkpoint'
  | 'other-key'
  | 'rolled-back'
  | 'write-failed'
  | 'closed';

/** The log cannot be written or opened. `code` says which trouble, `message` what to do about it. */
export class LogError extends Error {
  readonly code: LogTrouble;

  constructor(message: string, options: { readonly code: LogTrouble; readonly cause?: unknown }) {
    super(message, options);
    this.name = 'LogError';
    this.code = options.code;
  }
}
