import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type Database from 'better-sqlite3';
import type { Damage } from '../record/index.ts';
import { APPLICATION, LogError } from './types.ts';

/**
 * Versions of the schema (`PRAGMA user_version`): 1 has no keys; 2 adds `key` and `signature` to the checkpoints. A step from
 * one to the next only adds: no row that is there is written again.
 */
export const SCHEMA_VERSION = 2;

const FILE = fileURLToPath(new URL('./schema.sql', import.meta.url));

const STEPS: Readonly<Record<number, string>> = {
  1: `ALTER TABLE checkpoints ADD COLUMN key TEXT;
      ALTER TABLE checkpoints ADD COLUMN signature TEXT;
      PRAGMA user_version = 2;`,
};

const number = (database: Database.Database, pragma: string): number =>
  Number(database.pragma(pragma, { simple: true }));

export const versionOf = (database: Database.Database): number => number(database, 'user_version');

/** Makes the tables of a new log. */
export const makeTables = (database: Database.Database): void => {
  database.exec(readFileSync(FILE, 'utf8'));
};

/** A log that a newer program has written is not read in part. */
export const refuseNewer = (database: Database.Database, path: string): void => {
  const version = versionOf(database);
  if (version <= SCHEMA_VERSION) return;
  throw new LogError(
    `${path} was written by a newer version of this program (schema ${version}, this one knows ${SCHEMA_VERSION}); ` +
      'use that version, or a newer one',
    { code: 'newer' },
  );
};

/** Refuses to write on what is no log, and on a newer one: nothing of it is touched. */
export const refuseForeign = (database: Database.Database, path: string): void => {
  if (number(database, 'application_id') !== APPLICATION)
    throw new LogError(`${path} is a database, but not a verification log`, { code: 'not-a-log' });
  refuseNewer(database, path);
};

/** Takes a log to the newest schema, in one transaction. */
export const migrate = (database: Database.Database): void => {
  database.transaction(() => {
    for (let step = STEPS[versionOf(database)]; step !== undefined; step = STEPS[versionOf(database)])
      database.exec(step);
  })();
};

/** A header that does not say what the tables are: it was changed, since the two are written together. */
export const schemaDamage = (database: Database.Database): Damage[] => {
  const version = versionOf(database);
  const columns = database.pragma('table_info(checkpoints)') as { name: string }[];
  const has = columns.some(({ name }) => name === 'signature') ? 2 : 1;
  const isOurs = number(database, 'application_id') === APPLICATION;
  return isOurs && version === has ? [] : [{ reason: { code: 'header-altered', params: { version, has } } }];
};
