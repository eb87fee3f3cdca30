import type { StoredCheckpoint } from './chain/checkpoint.ts';

/** Where a log is read from; nothing here knows a file. */
export interface LogSource {
  /** In the order of `seq`. */
  entries(): Iterable<{ readonly seq: number; readonly text: string; readonly leaf: string }>;
  /** Those whose text holds these characters, in the order of `seq`; where the source can find them faster than by reading all. */
  holding?(characters: string): Iterable<{ readonly seq: number; readonly text: string }>;
  /** In the order of `size`. */
  checkpoints(): Iterable<StoredCheckpoint>;
  block(hash: string): Uint8Array | undefined;
  /** Names of all blocks, where the source can tell: one that no entry names was put there by somebody else. */
  blockNames?(): Iterable<string>;
}
