import { copyFileSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type Database from 'better-sqlite3';
import { openDatabase } from './database.ts';

export interface Opened {
  readonly database: Database.Database;
  close(): void;
}

const open = (path: string): Database.Database => {
  const database = openDatabase(path, { fileMustExist: true, readonly: true });
  try {
    // Reads the first page, so that what cannot be read says so here.
    database.pragma('schema_version');
    return database;
  } catch (error) {
    database.close();
    throw error;
  }
};

const isFolderLocked = (error: unknown): boolean =>
  /^SQLITE_(CANTOPEN|READONLY)/.test(String((error as { code?: unknown }).code));

/** SQLite needs to write beside a log in WAL mode even to read it; on a medium that cannot be written a copy is read. */
const openCopy = (path: string): Opened => {
  const folder = mkdtempSync(join(tmpdir(), 'tripwitness-'));
  const remove = (): void => rmSync(folder, { recursive: true, force: true });
  try {
    const copy = join(folder, 'log');
    copyFileSync(path, copy);
    if (existsSync(`${path}-wal`)) copyFileSync(`${path}-wal`, `${copy}-wal`);
    const database = open(copy);
    return {
      database,
      close() {
        database.close();
        remove();
      },
    };
  } catch (error) {
    remove();
    throw error;
  }
};

export const openForReading = (path: string): Opened => {
  try {
    const database = open(path);
    return { database, close: () => database.close() };
  } catch (error) {
    if (!isFolderLocked(error)) throw error;
    return openCopy(path);
  }
};
