/** Applies an edit to a log and judges what audit says of it. */
import { copyFileSync, existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { auditFile, LogError, readLog, sha256 } from '../../src/store/index.ts';
import { openCore } from '../../src/store/log-core.ts';
import type { Random } from './random.ts';
import { BYTE_EDITS, FILE_EDITS } from './tampering-bytes.ts';
import type { Base, Files } from './tampering-logs.ts';
import { ROW_EDITS, type RowEdit, SCHEMA_EDITS } from './tampering-rows.ts';

/** How an edit came out. `unseen`: evidence was changed and audit said nothing. `crashed`: an error that is none of ours. */
export type Outcome = 'named' | 'nothing-changed' | 'unseen' | 'crashed';

export interface Judged {
  readonly kind: string;
  readonly outcome: Outcome;
  /** The file told by itself, without the memory beside the keys. */
  readonly alone: boolean;
  /** Codes that audit gave, or the error. */
  readonly told: readonly string[];
}

const QUERIES = [
  'SELECT seq, text, leaf FROM entries ORDER BY seq',
  'SELECT hash, bytes FROM blocks ORDER BY hash',
  'SELECT size, root, utc, key, signature FROM checkpoints ORDER BY size',
];

/** All that can be read, as one hash; undefined where not all of it can. Shares no code with the reader of the program. */
const contentOf = (path: string): string | undefined => {
  try {
    const database = new Database(path, { readonly: true, fileMustExist: true });
    try {
      const rows = QUERIES.map((query) => database.prepare(query).raw().all());
      return sha256(Buffer.from(JSON.stringify(rows)));
    } finally {
      database.close();
    }
  } catch {
    return undefined;
  }
};

const clear = (folder: string): void => {
  for (const name of readdirSync(folder)) rmSync(join(folder, name), { recursive: true });
};

const put = (path: string, { log, wal }: Files): void => {
  writeFileSync(path, log);
  if (wal !== undefined) writeFileSync(`${path}-wal`, wal);
};

/** Through SQL, with what hinders an honest hand taken away first. */
const throughSql = (path: string, edit: RowEdit, random: Random): void => {
  const database = new Database(path);
  try {
    const triggers = database.prepare("SELECT name FROM sqlite_master WHERE type = 'trigger'").all();
    for (const { name } of triggers as { name: string }[]) database.exec(`DROP TRIGGER ${name}`);
    edit(database, random);
  } finally {
    database.close();
  }
};

const apply = (path: string, base: Base, random: Random): string => {
  const [group, edits] = random.pick([
    ['bytes', BYTE_EDITS],
    ['bytes', BYTE_EDITS],
    ['rows', ROW_EDITS],
    ['rows', ROW_EDITS],
    ['schema', SCHEMA_EDITS],
    ['file', FILE_EDITS],
  ] as const);
  const kind = random.pick(Object.keys(edits));
  if (group === 'bytes' || group === 'file') {
    const edit = { ...BYTE_EDITS, ...FILE_EDITS }[kind];
    put(path, edit?.(base, random) ?? base);
  } else {
    put(path, base);
    const edit = { ...ROW_EDITS, ...SCHEMA_EDITS }[kind];
    if (edit !== undefined) throughSql(path, edit, random);
  }
  return `${group}: ${kind}`;
};

/** Whatever else the program does with such a file, it ends with a word of its own. */
const useAll = (path: string, keys: string, folder: string): void => {
  const attempt = (work: () => void): void => {
    try {
      work();
    } catch (error) {
      if (!(error instanceof LogError)) throw error;
    }
  };
  attempt(() => {
    const reader = readLog(path);
    try {
      reader.parsed();
      reader.checkpoint();
      reader.entriesOf({ window: 'w-1' });
    } finally {
      reader.close();
    }
  });
  const own = join(folder, 'keys');
  mkdirSync(own, { mode: 0o700 });
  for (const name of readdirSync(keys)) copyFileSync(join(keys, name), join(own, name));
  attempt(() => openCore(path, { keys: own }).close());
};

/** One edit. `folder` is emptied first; the base stays as it is. */
export const tamper = (base: Base, folder: string, random: Random): Judged => {
  clear(folder);
  const [path, whole] = [join(folder, 'log.db'), join(folder, 'whole.db')];
  put(whole, base);
  const before = contentOf(whole);
  let kind = 'none';
  try {
    kind = apply(path, base, random);
    const { damage } = auditFile(path, { keys: base.keys });
    const told = [...new Set(damage.map(({ reason }) => reason.code))].sort();
    const alone = auditFile(path).damage.length > 0;
    const isSame = existsSync(path) && contentOf(path) === before;
    useAll(path, base.keys, folder);
    if (told.length > 0) return { kind, outcome: 'named', alone, told };
    return { kind, outcome: isSame ? 'nothing-changed' : 'unseen', alone, told };
  } catch (error) {
    return {
      kind,
      outcome: 'crashed',
      alone: false,
      told: [error instanceof Error ? (error.stack ?? '') : String(error)],
    };
  }
};
