import type Database from 'better-sqlite3';
import {
  appendLeaf,
  type Chain,
  chained,
  type Frontier,
  leafOfText,
  NO_CHAIN,
  newFrontier,
  parseEntry,
  rootOf,
  type StoredCheckpoint,
  sealIn,
} from '../record/index.ts';
import { sha256 } from './sha256.ts';
import { LogError } from './types.ts';

/** What is stored, as the writer needs it to go on. */
export interface Stored {
  readonly frontier: Frontier;
  /** `body.log` of the genesis; '' before there is one. */
  readonly log: string;
  readonly last: StoredCheckpoint | undefined;
  /** Over all checkpoints. */
  readonly chain: Chain;
  /** So many of them were sealed last. */
  readonly sealed: number;
  /** Root of the first `size` entries, where it was asked for and there are so many. */
  readonly rootAt: string | undefined;
}

const damaged = (path: string, what: string): LogError =>
  new LogError(`${path}: ${what}; run audit, and start a new log`, { code: 'damaged' });

const logOf = (text: string): string => {
  const parsed = parseEntry(text);
  const log = 'entry' in parsed ? parsed.entry.body['log'] : undefined;
  return typeof log === 'string' ? log : '';
};

/**
 * Makes the tree anew from what is stored. A leaf that does not fit its text, or a checkpoint that does not fit the leaves,
 * stops the writer. `size`: where else a root is wanted.
 */
export const readStored = (database: Database.Database, path: string, size?: number): Stored => {
  const frontier = newFrontier();
  let [log, rootAt, sealed]: [string, string | undefined, number] = ['', undefined, 0];
  const rows = database.prepare('SELECT seq, text, leaf FROM entries ORDER BY seq').iterate() as Iterable<{
    seq: number;
    text: string;
    leaf: string;
  }>;
  for (const { seq, text, leaf } of rows) {
    if (seq !== frontier.size || leafOfText(sha256, text) !== leaf)
      throw damaged(path, `entry ${seq} is not what was written`);
    if (seq === 0) log = logOf(text);
    sealed = sealIn(text)?.checkpoints ?? sealed;
    appendLeaf(sha256, frontier, leaf);
    if (frontier.size === size) rootAt = rootOf(sha256, frontier);
  }
  let last: StoredCheckpoint | undefined;
  let chain = NO_CHAIN;
  for (const row of database.prepare('SELECT * FROM checkpoints ORDER BY size').iterate()) {
    last = row as StoredCheckpoint;
    chain = chained(sha256, chain, last);
  }
  if (frontier.size > 0 && (last?.size !== frontier.size || last.root !== rootOf(sha256, frontier)))
    throw damaged(path, 'the last checkpoint does not fit the entries');
  return { frontier, log, last, chain, sealed, rootAt };
};
