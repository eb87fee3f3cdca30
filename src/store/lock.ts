import type Database from 'better-sqlite3';
import { openDatabase } from './database.ts';
import { LogError } from './types.ts';

/** Held for as long as a log is written. */
export interface Lock {
  release(): void;
}

/**
 * Only one writer at a time. The lock is an exclusive transaction on an empty database beside the log: the operating
 * system lets go of it when its process dies, however that happens, so that nothing stale is left to be judged. The file
 * itself stays: taking it away would let two processes hold locks on two files of one name.
 */
export const takeLock = (path: string): Lock => {
  const file = `${path}-lock`;
  let database: Database.Database | undefined;
  try {
    database = openDatabase(file, { timeout: 0 });
    database.exec('BEGIN EXCLUSIVE');
  } catch (cause) {
    database?.close();
    if (cause instanceof LogError) throw cause;
    if (String((cause as { code?: unknown }).code).startsWith('SQLITE_BUSY')) {
      throw new LogError(
        `${path} is being written by another daemon; stop that one first, or use another log`,
        {
          code: 'in-use',
          cause,
        },
      );
    }
    throw new LogError(
      `${file} cannot be made: ${String(cause)}; does the folder exist, and may we write there?`,
      {
        code: 'write-failed',
        cause,
      },
    );
  }
  const held = database;
  return { release: () => held.close() };
};
