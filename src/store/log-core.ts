import { closeSync, existsSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
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
import { sha256 } from './sha256.ts';
import { type Appended, type Batch, LogError } from './types.ts';

/** Faults that a test plants at a step of writing. */
export interface Trouble {
  before?(step: 'blocks' | 'entries' | 'checkpoint' | 'commit'): void;
  /** The commit is on the disk, the answer is lost. */
  after?(): void;
}

export interface LogCore {
  append(batch: Batch): Appended;
  head(): { readonly size: number; readonly root: string };
  close(): void;
}

const SCHEMA = fileURLToPath(new URL('./schema.sql', import.meta.url));

/** A lock file with our process number keeps a second daemon out; one left by a dead process is taken over. */
const takeLock = (path: string): string => {
  const lock = `${path}.lock`;
  if (existsSync(lock)) {
    const owner = Number(readFileSync(lock, 'utf8'));
    if (owner !== process.pid && isAlive(owner)) {
      throw new LogError(`${path} is being written by process ${owner}; stop it first, or use another log`, {
        code: 'in-use',
      });
    }
    rmSync(lock, { force: true });
  }
  try {
    const file = openSync(lock, 'wx');
    writeSync(file, String(process.pid));
    closeSync(file);
  } catch (cause) {
    throw new LogError(`${lock} cannot be made; is another daemon starting, or the folder read-only?`, {
      code: 'in-use',
      cause,
    });
  }
  return lock;
};

const isAlive = (pid: number): boolean => {
  if (!Number.isInteger(pid) || pid <= 0) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
};

const configure = (database: Database.Database): void => {
  database.pragma('journal_mode = WAL');
  // FULL: what was acknowledged is on the disk, also after the power goes.
  database.pragma('synchronous = FULL');
};

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
  return frontier;
};

const statements = (database: Database.Database) => ({
  block: database.prepare('INSERT OR IGNORE INTO blocks (hash, bytes) VALUES (?, ?)'),
  entry: database.prepare('INSERT INTO entries (seq, text, leaf) VALUES (?, ?, ?)'),
  checkpoint: database.prepare('INSERT INTO checkpoints (size, root, utc) VALUES (?, ?, ?)'),
});

const writer = (database: Database.Database, path: string, lock: string, trouble: Trouble): LogCore => {
  let frontier = readFrontier(database, path);
  const put = statements(database);

  const write = (batch: Batch): { next: Frontier; first: number } => {
    const next: Frontier = { size: frontier.size, edges: [...frontier.edges] };
    const first = next.size;
    database.exec('BEGIN IMMEDIATE');
    trouble.before?.('blocks');
    // Blocks first: an entry must never name a block that is not there. A crash here leaves nothing.
    for (const bytes of batch.blocks) put.block.run(sha256(bytes), bytes);
    trouble.before?.('entries');
    let utc = '';
    for (const draft of batch.entries) {
      const entry: Entry = { ...draft, seq: next.size };
      const text = entryText(entry);
      const leaf = leafOfText(sha256, text);
      put.entry.run(next.size, text, leaf);
      appendLeaf(sha256, next, leaf);
      utc = entry.utc;
    }
    trouble.before?.('checkpoint');
    // The root goes into the same transaction: entries without a checkpoint over them cannot be on the disk.
    if (next.size > first) put.checkpoint.run(next.size, rootOf(sha256, next), utc);
    trouble.before?.('commit');
    // Before this line a crash leaves the log as it was; after it, all of the batch is there.
    database.exec('COMMIT');
    return { next, first };
  };

  return {
    append(batch) {
      try {
        const { next, first } = write(batch);
        frontier = next;
        trouble.after?.();
        return { first, size: next.size, root: rootOf(sha256, next) };
      } catch (cause) {
        if (database.inTransaction) database.exec('ROLLBACK');
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
      rmSync(lock, { force: true });
    },
  };
};

/** Makes a new log; refuses where a file is already. */
export const createCore = (path: string, trouble: Trouble = {}): LogCore => {
  if (existsSync(path))
    throw new LogError(`${path} exists already; a log is never started over another`, { code: 'in-use' });
  const lock = takeLock(path);
  try {
    const database = new Database(path);
    configure(database);
    database.exec(readFileSync(SCHEMA, 'utf8'));
    return writer(database, path, lock, trouble);
  } catch (cause) {
    rmSync(lock, { force: true });
    if (cause instanceof LogError) throw cause;
    throw new LogError(`${path} cannot be made: ${String(cause)}; does the folder exist?`, {
      code: 'write-failed',
      cause,
    });
  }
};

/** Opens a log that is there; a missing file is an error, never a fresh start. */
export const openCore = (path: string, trouble: Trouble = {}): LogCore => {
  if (!existsSync(path))
    throw new LogError(`${path} is not there; name the right log, or start a new one`, { code: 'missing' });
  const lock = takeLock(path);
  try {
    const database = new Database(path, { fileMustExist: true });
    configure(database);
    if (database.pragma('application_id', { simple: true }) !== 1_953_984_887) {
      throw new LogError(`${path} is a database, but not a verification log`, { code: 'not-a-log' });
    }
    return writer(database, path, lock, trouble);
  } catch (cause) {
    rmSync(lock, { force: true });
    if (cause instanceof LogError) throw cause;
    throw new LogError(`${path} cannot be opened: ${String(cause)}; run audit on it`, {
      code: 'damaged',
      cause,
    });
  }
};
