import { existsSync } from 'node:fs';
import Database from 'better-sqlite3';
import {
  type Damage,
  type Entry,
  type LogSource,
  parseEntry,
  type Verified,
  verifyLog,
} from '../record/index.ts';
import { sha256 } from './sha256.ts';
import { LogError } from './types.ts';

/** A log opened for reading; the writer may be at work meanwhile. */
export interface LogReader extends LogSource {
  /** Parsed entries; one that cannot be read is left to `audit`. */
  parsed(): Entry[];
  close(): void;
}

export const readLog = (path: string): LogReader => {
  if (!existsSync(path)) throw new LogError(`${path} is not there; name the right log`, { code: 'missing' });
  const database = new Database(path, { fileMustExist: true, readonly: true });
  const entries = (): Iterable<{ seq: number; text: string; leaf: string }> =>
    database.prepare('SELECT seq, text, leaf FROM entries ORDER BY seq').iterate() as never;
  return {
    entries,
    checkpoints: () =>
      database.prepare('SELECT size, root FROM checkpoints ORDER BY size').iterate() as never,
    block: (hash) =>
      (
        database.prepare('SELECT bytes FROM blocks WHERE hash = ?').get(hash) as
          | { bytes: Uint8Array }
          | undefined
      )?.bytes,
    parsed: () =>
      (database.prepare('SELECT text FROM entries ORDER BY seq').all() as { text: string }[]).flatMap(
        ({ text }) => {
          const parsed = parseEntry(text);
          return 'entry' in parsed ? [parsed.entry] : [];
        },
      ),
    close: () => database.close(),
  };
};

const unreadable = (path: string, why: unknown): Damage => ({
  reason: { code: 'database-damaged', params: { path, why: String(why) } },
});

/** SQLite's own look at its pages and indexes. */
const integrity = (path: string): Damage[] => {
  const database = new Database(path, { fileMustExist: true, readonly: true });
  try {
    const rows = database.pragma('integrity_check(20)') as { integrity_check: string }[];
    return rows
      .filter((row) => row.integrity_check !== 'ok')
      .map((row) => unreadable(path, row.integrity_check));
  } finally {
    database.close();
  }
};

const attempt = <T>(damage: Damage[], path: string, look: () => T): T | undefined => {
  try {
    return look();
  } catch (error) {
    if (error instanceof LogError) throw error;
    damage.push(unreadable(path, error));
    return undefined;
  }
};

/** Verifies a log from its file alone. A file that is no readable database any more is damage, not an error. */
export const auditFile = (path: string): Verified => {
  if (!existsSync(path)) throw new LogError(`${path} is not there; name the right log`, { code: 'missing' });
  const damage: Damage[] = [];
  damage.push(...(attempt(damage, path, () => integrity(path)) ?? []));
  const verified = attempt(damage, path, () => {
    const reader = readLog(path);
    try {
      return verifyLog(reader, sha256);
    } finally {
      reader.close();
    }
  });
  if (verified === undefined) return { entries: 0, root: '', damage, open: [] };
  return { ...verified, damage: [...verified.damage, ...damage] };
};
