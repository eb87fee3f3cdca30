import { closeSync, existsSync, fsyncSync, openSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import {
  appendLeaf,
  type Entry,
  entryText,
  type Frontier,
  leafOfText,
  newFrontier,
  rootOf,
} from '../record/index.ts';
import { type Lock, takeLock } from './lock.ts';
import { sha256 } from './sha256.ts';
import { APPLICATION, type Appended, type Batch, type Draft, LogError } from './types.ts';
import { walDamage } from './wal.ts';

/** The steps of writing a batch, in their order. */
export const STEPS = ['blocks', 'entries', 'checkpoint', 'commit'] as const;
export type Step = (typeof STEPS)[number];

/** Faults that a test plants: a step that fails, or one that is done and fails all the same. */
export interface Trouble {
  before?(step: Step): void;
  after?(step: Step): void;
}

export interface LogCore {
  append(batch: Batch): Appended;
  head(): { readonly size: number; readonly root: string };
  close(): void;
}

const SCHEMA = fileURLToPath(new URL('./schema.sql', import.meta.url));

/** The frontier is made anew from the stored leaves; a leaf that does not fit its text stops the writer. */
const readFrontier = (database: Database.Database, path: string): Frontier => {
  const frontier = newFrontier();
  const rows = database.prepare('SELECT seq, text, leaf FROM entries ORDER BY seq').iterate() as Iterable<{
    seq: number;
    text: string;
    leaf: string;
  }>;
  for (const { seq, text, leaf } of rows) {
    if (seq !== frontier.size || leafOfText(sha256, text) !== leaf) {
      throw new LogError(`${path}: entry ${seq} is not what was written; run audit, and start a new log`, {
        code: 'damaged',
      });
    }
    appendLeaf(sha256, frontier, leaf);
  }
  const last = database.prepare('SELECT size, root FROM checkpoints ORDER BY size DESC LIMIT 1').get() as
    | { size: number; root: string }
    | undefined;
  if (frontier.size > 0 && (last?.size !== frontier.size || last.root !== rootOf(sha256, frontier))) {
    throw new LogError(
      `${path}: the last checkpoint does not fit the entries; run audit, and start a new log`,
      {
        code: 'damaged',
      },
    );
  }
  return frontier;
};

const statements = (database: Database.Database) => ({
  block: database.prepare('INSERT OR IGNORE INTO blocks (hash, bytes) VALUES (?, ?)'),
  entry: database.prepare('INSERT INTO entries (seq, text, leaf) VALUES (?, ?, ?)'),
  checkpoint: database.prepare('INSERT INTO checkpoints (size, root, utc) VALUES (?, ?, ?)'),
  size: database.prepare('SELECT count(*) FROM entries').pluck(),
});
type Statements = ReturnType<typeof statements>;

const putEntries = (put: Statements, drafts: readonly Draft[], next: Frontier): string => {
  let utc = '';
  for (const draft of drafts) {
    const entry: Entry = { ...draft, seq: next.size };
    const text = entryText(entry);
    const leaf = leafOfText(sha256, text);
    put.entry.run(next.size, text, leaf);
    appendLeaf(sha256, next, leaf);
    utc = entry.utc;
  }
  return utc;
};

const writeBatch = (
  database: Database.Database,
  put: Statements,
  frontier: Frontier,
  batch: Batch,
  trouble: Trouble,
): Frontier => {
  const next: Frontier = { size: frontier.size, edges: [...frontier.edges] };
  const step = (name: Step, work: () => void): void => {
    trouble.before?.(name);
    work();
    trouble.after?.(name);
  };
  // One transaction: a crash at any line up to COMMIT leaves the log as it was, and nothing of it was acknowledged.
  database.exec('BEGIN IMMEDIATE');
  // Blocks first: whoever sees an entry also sees the block that it names.
  step('blocks', () => {
    for (const bytes of batch.blocks) put.block.run(sha256(bytes), bytes);
  });
  let utc = '';
  step('entries', () => {
    utc = putEntries(put, batch.entries, next);
  });
  // The root goes into the same transaction: entries without a checkpoint over them are never on the disk.
  step('checkpoint', () => {
    if (next.size > frontier.size) put.checkpoint.run(next.size, rootOf(sha256, next), utc);
  });
  // COMMIT returns after the write-ahead file is synchronised. A crash behind it costs the caller the answer only: the
  // entries are there, and a caller that never heard of them finds them under their numbers.
  step('commit', () => database.exec('COMMIT'));
  return next;
};

const newWriter = (database: Database.Database, path: string, lock: Lock, trouble: Trouble): LogCore => {
  let frontier = readFrontier(database, path);
  const put = statements(database);

  /** After a failure what counts is what is stored, not what this thread believes. */
  const recover = (): void => {
    if (database.inTransaction) database.exec('ROLLBACK');
    if (put.size.get() !== frontier.size) frontier = readFrontier(database, path);
  };

  return {
    append(batch) {
      try {
        frontier = writeBatch(database, put, frontier, batch, trouble);
        return {
          first: frontier.size - batch.entries.length,
          size: frontier.size,
          root: rootOf(sha256, frontier),
        };
      } catch (cause) {
        recover();
        if (cause instanceof LogError) throw cause;
        throw new LogError(`${path} cannot be written: ${String(cause)}; check space and rights`, {
          code: 'write-failed',
          cause,
        });
      }
    },
    head: () => ({ size: frontier.size, root: rootOf(sha256, frontier) }),
    close() {
      database.close();
      lock.release();
    },
  };
};

const openDatabase = (path: string, isNew: boolean): Database.Database => {
  const database = new Database(path, { fileMustExist: !isNew });
  try {
    // Asked before anything is set: what is not ours stays as it is.
    if (!isNew && database.pragma('application_id', { simple: true }) !== APPLICATION)
      throw new LogError(`${path} is a database, but not a verification log`, { code: 'not-a-log' });
    database.pragma('journal_mode = WAL');
    // FULL: what was acknowledged is on the disk, also after the power goes.
    database.pragma('synchronous = FULL');
    return database;
  } catch (error) {
    database.close();
    throw error;
  }
};

const failed = (path: string, cause: unknown, code: 'write-failed' | 'damaged', what: string): LogError =>
  cause instanceof LogError
    ? cause
    : new LogError(`${path} ${what.replace('%', String(cause))}`, { code, cause });

const openLocked = (path: string, lock: Lock, trouble: Trouble): LogCore => {
  let database: Database.Database | undefined;
  // Opening moves the write-ahead file into the log, and with it the only trace of what is broken in it.
  if (walDamage(path).length > 0) {
    throw new LogError(
      `${path}-wal is not what was written; keep both files, run audit, and start a new log`,
      {
        code: 'damaged',
      },
    );
  }
  try {
    database = openDatabase(path, false);
    return newWriter(database, path, lock, trouble);
  } catch (cause) {
    database?.close();
    throw failed(path, cause, 'damaged', 'cannot be opened: %; run audit on it');
  }
};

/** Keeps the name of a new file through a power cut. */
const syncFolder = (path: string): void => {
  const folder = openSync(dirname(path), 'r');
  try {
    fsyncSync(folder);
  } finally {
    closeSync(folder);
  }
};

/** A crash before the rename leaves no log, only an unfinished file of another name, which the next attempt replaces. */
const makeFile = (path: string, genesis: Draft | undefined, lock: Lock): void => {
  const unfinished = `${path}-new`;
  for (const file of [unfinished, `${unfinished}-wal`, `${unfinished}-shm`]) rmSync(file, { force: true });
  const database = openDatabase(unfinished, true);
  try {
    database.exec(readFileSync(SCHEMA, 'utf8'));
    if (genesis !== undefined)
      newWriter(database, unfinished, lock, {}).append({ entries: [genesis], blocks: [] });
  } finally {
    // The last connection moves all of the write-ahead file into the database and removes it.
    database.close();
  }
  renameSync(unfinished, path);
  syncFolder(path);
};

/** Makes a new log that begins with `genesis`; refuses where a file is already. */
export const createCore = (path: string, genesis?: Draft, trouble: Trouble = {}): LogCore => {
  const lock = takeLock(path);
  try {
    if (existsSync(path))
      throw new LogError(`${path} exists already; a log is never started over another`, { code: 'in-use' });
    makeFile(path, genesis, lock);
    return openLocked(path, lock, trouble);
  } catch (cause) {
    lock.release();
    throw failed(path, cause, 'write-failed', 'cannot be made: %; check space and rights');
  }
};

/** Opens a log that is there; a missing file is an error, never a fresh start. */
export const openCore = (path: string, trouble: Trouble = {}): LogCore => {
  if (!existsSync(path))
    throw new LogError(`${path} is not there; name the right log, or start a new one`, { code: 'missing' });
  const lock = takeLock(path);
  try {
    return openLocked(path, lock, trouble);
  } catch (error) {
    lock.release();
    throw error;
  }
};
