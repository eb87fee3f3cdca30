import { existsSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import Database from 'better-sqlite3';
import {
  appendLeaf,
  type Chain,
  chained,
  type Entry,
  entryText,
  type Frontier,
  leafOfText,
  rootOf,
  type SignedCheckpoint,
  statementText,
  takeoverText,
  utf8,
} from '../record/index.ts';
import type { Signer } from './ed25519.ts';
import { readStored } from './frontier.ts';
import { headFile, headOf, putHead } from './head.ts';
import { type Lock, takeLock } from './lock.ts';
import { type Consent, prepareWriting } from './opening.ts';
import { ownDraft } from './own-draft.ts';
import { makeTables, migrate, refuseForeign } from './schema.ts';
import { sha256 } from './sha256.ts';
import { keysBeside } from './site-key.ts';
import { type Appended, type Batch, type Draft, type Head, LogError, type Opening } from './types.ts';
import { walDamage } from './wal.ts';
import { syncFolder } from './whole-file.ts';

/** The steps of writing a batch, in their order. */
export const STEPS = ['blocks', 'entries', 'sign', 'checkpoint', 'commit', 'head'] as const;
export type Step = (typeof STEPS)[number];

/** So many checkpoints may stand without a seal before the writer makes one when it opens the log. */
const SEAL_AFTER = 64;

/** Faults that a test plants: a step that fails, or one that is done and fails all the same. */
export interface Trouble {
  before?(step: Step): void;
  after?(step: Step): void;
}

export interface CoreOptions extends Trouble, Consent {
  /** Folder of the site key and of what is remembered of the log; `keys` beside the log where none is named. */
  readonly keys?: string;
}

export interface LogCore {
  append(batch: Batch): Appended;
  /** The first entry; it carries the key of the site and the identity of the log (`body.log`). */
  begin(genesis: Draft): void;
  /** The newest checkpoint. */
  head(): Head;
  /** What was done when it was opened, beyond opening. */
  opening(): readonly Opening[];
  /** Keeps the newest checkpoint outside, through a power cut. */
  remember(): void;
  /** Enters `next` as the key that signs from this entry on, with the old key's proof. */
  changeKey(next: Signer): Appended;
  close(): void;
}

const statements = (database: Database.Database) => ({
  block: database.prepare('INSERT OR IGNORE INTO blocks (hash, bytes) VALUES (?, ?)'),
  entry: database.prepare('INSERT INTO entries (seq, text, leaf) VALUES (?, ?, ?)'),
  checkpoint: database.prepare(
    'INSERT INTO checkpoints (size, root, utc, key, signature) VALUES (?, ?, ?, ?, ?)',
  ),
  size: database.prepare('SELECT count(*) FROM entries').pluck(),
});
type Statements = ReturnType<typeof statements>;

/** What the writer knows of its log. */
interface State {
  readonly path: string;
  readonly keys: string;
  signer: Signer;
  frontier: Frontier;
  head: Head;
  /** Over all checkpoints so far. */
  chain: Chain;
}

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

const signed = ({ head, signer }: State, next: Frontier, utc: string): SignedCheckpoint => {
  const statement = { key: signer.key, log: head.log, root: rootOf(sha256, next), size: next.size, utc };
  return { ...statement, signature: signer.sign(utf8(statementText(statement))) };
};

const writeBatch = (
  database: Database.Database,
  put: Statements,
  state: State,
  batch: Batch,
  trouble: Trouble,
): void => {
  const { frontier } = state;
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
  const seal = batch.seal === true && frontier.size > 0 ? [ownDraft('sealed', { ...state.chain })] : [];
  step('entries', () => {
    utc = putEntries(put, [...batch.entries, ...seal], next);
  });
  let head = state.head;
  // The statement needs the root over all entries of the batch, so it comes behind them; a crash here loses a signature that
  // nobody has seen.
  step('sign', () => {
    if (next.size > frontier.size) head = signed(state, next, utc);
  });
  // The root goes into the same transaction: entries without a signed checkpoint over them are never on the disk.
  step('checkpoint', () => {
    const { size, root, key, signature } = head;
    if (next.size > frontier.size) put.checkpoint.run(size, root, utc, key, signature);
  });
  // COMMIT returns after the write-ahead file is synchronised. A crash behind it costs the caller the answer only: the
  // entries are there, and a caller that never heard of them finds them under their numbers.
  step('commit', () => database.exec('COMMIT'));
  state.frontier = next;
  if (next.size > frontier.size) state.chain = chained(sha256, state.chain, head);
  state.head = head;
  // Only what is on the disk is remembered outside: the other way round, a crash between the two would look like a log that
  // was cut off. A crash before this line leaves an older memory, which the log still contains.
  step('head', () => putHead(state.keys, state.path, head, state.chain.digest));
};

const notWritten = (cause: unknown, path: string): LogError =>
  cause instanceof LogError
    ? cause
    : new LogError(`${path} cannot be written: ${String(cause)}; check space and rights`, {
        code: 'write-failed',
        cause,
      });

/** The head of what is stored, once it is signed; before that, only its size and root say something. */
const headFrom = (stored: ReturnType<typeof readStored>): Head => ({
  log: stored.log,
  size: stored.frontier.size,
  root: rootOf(sha256, stored.frontier),
  utc: stored.last?.utc ?? '',
  key: stored.last?.key ?? '',
  signature: stored.last?.signature ?? '',
});

const bodyOfLost = ({ key, root, signature, size, utc }: SignedCheckpoint): Draft['body'] => ({
  key,
  root,
  signature,
  size,
  utc,
});

const newWriter = (
  database: Database.Database,
  path: string,
  keys: string,
  lock: Lock,
  options: Omit<CoreOptions, 'keys'>,
): LogCore => {
  const { stored, signer, adopt, lost, told } = prepareWriting(database, path, keys, options);
  migrate(database);
  const put = statements(database);
  const { frontier, chain } = stored;
  const state: State = { path, keys, signer, frontier, head: headFrom(stored), chain };

  /** After a failure what counts is what is stored, not what this thread believes. */
  const recover = (): void => {
    if (database.inTransaction) database.exec('ROLLBACK');
    if (put.size.get() === state.frontier.size) return;
    const found = readStored(database, path);
    state.frontier = found.frontier;
    state.head = headFrom(found);
    state.chain = found.chain;
  };

  const append = (batch: Batch): Appended => {
    const first = state.frontier.size;
    try {
      writeBatch(database, put, state, batch, options);
      return { first, size: state.head.size, root: state.head.root };
    } catch (cause) {
      recover();
      throw notWritten(cause, path);
    }
  };

  const changeKey = (next: Signer): Appended => {
    const before = state.signer;
    const { key } = next;
    const proof = before.sign(utf8(takeoverText(state.head.log, key, before.key)));
    state.signer = next;
    try {
      return append({ entries: [ownDraft('key', { key, by: before.key, proof })], blocks: [] });
    } finally {
      if (state.head.key !== key) state.signer = before;
    }
  };

  const remember = (): void => {
    if (state.head.size > 0 && existsSync(path))
      putHead(keys, path, state.head, state.chain.digest, { sync: true });
  };

  // What is to be known for ever goes in before anything else, and before the memory outside is written over.
  const first = [
    ...(lost === undefined ? [] : [ownDraft('restored', bodyOfLost(lost))]),
    ...(adopt ? [ownDraft('key', { key: signer.key })] : []),
  ];
  const seal = chain.checkpoints - stored.sealed >= SEAL_AFTER;
  if (first.length > 0 || seal) append({ entries: first, blocks: [], seal });
  return {
    append,
    begin(genesis) {
      const { log } = genesis.body;
      state.head = { ...state.head, log: typeof log === 'string' ? log : '' };
      append({ entries: [{ ...genesis, body: { ...genesis.body, key: signer.key } }], blocks: [] });
    },
    head: () => state.head,
    opening: () => told,
    remember,
    changeKey,
    close() {
      database.close();
      remember();
      lock.release();
    },
  };
};

const openDatabase = (path: string, isNew: boolean): Database.Database => {
  const database = new Database(path, { fileMustExist: !isNew });
  try {
    // Asked before anything is set: what is not ours stays as it is.
    if (!isNew) refuseForeign(database, path);
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

const openLocked = (path: string, keys: string, lock: Lock, options: CoreOptions): LogCore => {
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
    const core = newWriter(database, path, keys, lock, options);
    // A crash behind the last commit left an older memory.
    core.remember();
    return core;
  } catch (cause) {
    database?.close();
    throw failed(path, cause, 'damaged', 'cannot be opened: %; run audit on it');
  }
};

/**
 * A crash before the rename leaves no log, only an unfinished file of another name, which the next attempt replaces. It
 * leaves no memory either, since that goes by the name of the log.
 */
const makeFile = (path: string, keys: string, genesis: Draft | undefined, lock: Lock): readonly Opening[] => {
  const unfinished = `${path}-new`;
  const files = [unfinished, `${unfinished}-wal`, `${unfinished}-shm`, headFile(keys, unfinished)];
  for (const file of files) rmSync(file, { force: true });
  const database = openDatabase(unfinished, true);
  let told: readonly Opening[] = [];
  try {
    makeTables(database);
    const writer = newWriter(database, unfinished, keys, lock, {});
    told = writer.opening();
    if (genesis !== undefined) writer.begin(genesis);
  } finally {
    // The last connection moves all of the write-ahead file into the database and removes it.
    database.close();
  }
  rmSync(headFile(keys, unfinished), { force: true });
  renameSync(unfinished, path);
  syncFolder(dirname(path));
  return told;
};

const refuseRemembered = (path: string, keys: string): void => {
  const head = headOf(keys, path);
  if (typeof head === 'string') return;
  const file = headFile(keys, path);
  throw new LogError(
    `${path} is gone, but ${file} remembers ${head.size} entries of it (${head.utc}). Put the log back; ` +
      'to begin a new one all the same, name another file, or move that memory away and keep it',
    { code: 'rolled-back' },
  );
};

/** Makes a new log that begins with `genesis`; refuses where a file is already, or where one is remembered. */
export const createCore = (path: string, genesis?: Draft, options: CoreOptions = {}): LogCore => {
  const lock = takeLock(path);
  const { keys = keysBeside(path) } = options;
  try {
    if (existsSync(path))
      throw new LogError(`${path} exists already; a log is never started over another`, { code: 'in-use' });
    refuseRemembered(path, keys);
    const told = makeFile(path, keys, genesis, lock);
    const core = openLocked(path, keys, lock, options);
    return { ...core, opening: () => told };
  } catch (cause) {
    lock.release();
    throw failed(path, cause, 'write-failed', 'cannot be made: %; check space and rights');
  }
};

/** Opens a log that is there; a missing file is an error, never a fresh start. */
export const openCore = (path: string, options: CoreOptions = {}): LogCore => {
  if (!existsSync(path))
    throw new LogError(`${path} is not there; name the right log, or start a new one`, { code: 'missing' });
  const lock = takeLock(path);
  const { keys = keysBeside(path) } = options;
  try {
    return openLocked(path, keys, lock, options);
  } catch (error) {
    lock.release();
    throw error;
  }
};
