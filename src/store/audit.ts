import Database from 'better-sqlite3';
import { type Damage, type Verified, verifyLog } from '../record/index.ts';
import { verifySignature } from './ed25519.ts';
import { openForReading } from './open-reading.ts';
import { type Known, outsideOf, partings } from './outside.ts';
import { isFileError, mustExist, noAccess, readerOf } from './read.ts';
import { schemaDamage } from './schema.ts';
import { sha256 } from './sha256.ts';
import { walDamage } from './wal.ts';

const damaged = (path: string, why: unknown): Damage => ({
  reason: { code: 'database-damaged', params: { path, why: String(why) } },
});

/** SQLite's own look at its pages and indexes. */
const integrity = (database: Database.Database, path: string): Damage[] => {
  try {
    const rows = database.pragma('integrity_check(20)') as { integrity_check: string }[];
    return rows
      .filter((row) => row.integrity_check !== 'ok')
      .map((row) => damaged(path, row.integrity_check));
  } catch (error) {
    if (!(error instanceof Database.SqliteError)) throw error;
    return [damaged(path, error)];
  }
};

const audit = (path: string, known: Known): Verified => {
  const { database, close } = openForReading(path);
  try {
    // One look at one moment: a daemon that writes on meanwhile changes nothing in what is compared.
    database.exec('BEGIN');
    const pages = [...schemaDamage(database), ...integrity(database, path)];
    const reader = readerOf(database, path, close);
    const { outside, notes } = outsideOf(path, reader.log(), known);
    const verified = verifyLog(reader, sha256, verifySignature, outside);
    const parted = partings(reader, verified, known);
    return {
      ...verified,
      notes: [...verified.notes, ...notes],
      damage: [...verified.damage, ...parted, ...reader.damage(), ...pages, ...walDamage(path)],
    };
  } finally {
    close();
  }
};

const NOTHING: Omit<Verified, 'damage'> = {
  entries: 0,
  root: '',
  log: '',
  fingerprint: '',
  keys: [],
  breaks: [],
  vouched: 0,
  notes: [],
  open: [],
};

/**
 * Verifies a log from its file alone, and holds it against what is known from outside. A file that is no readable database
 * any more is damage, not an error.
 */
export const auditFile = (path: string, known: Known = {}): Verified => {
  mustExist(path);
  try {
    return audit(path, known);
  } catch (error) {
    if (isFileError(error)) throw noAccess(path, error);
    if (!(error instanceof Database.SqliteError)) throw error;
    return { ...NOTHING, damage: [damaged(path, error)] };
  }
};
