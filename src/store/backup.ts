import { closeSync, existsSync, fsyncSync, openSync, renameSync, rmSync } from 'node:fs';
import { dirname } from 'node:path';
import type { Verified } from '../record/index.ts';
import { auditFile } from './audit.ts';
import { openForReading } from './open-reading.ts';
import type { Known } from './outside.ts';
import { mustExist } from './read.ts';
import { refuseForeign } from './schema.ts';
import { LogError } from './types.ts';
import { syncFolder } from './whole-file.ts';

const notCopied = (file: string, cause: unknown): LogError =>
  cause instanceof LogError
    ? cause
    : new LogError(`${file} cannot be written: ${String(cause)}; check space and rights`, {
        code: 'write-failed',
        cause,
      });

const copyInto = (path: string, unfinished: string): void => {
  const { database, close } = openForReading(path);
  try {
    refuseForeign(database, path);
    // One statement, one moment: what a daemon writes meanwhile is in the next copy.
    database.prepare('VACUUM INTO ?').run(unfinished);
  } finally {
    close();
  }
  const file = openSync(unfinished, 'r');
  fsyncSync(file);
  closeSync(file);
};

/**
 * Copies a log, also while it is written, verifies the copy, and only then gives it its name. A copy that does not verify is
 * taken away, and what is wrong with it is returned.
 */
export const backupLog = (path: string, file: string, known: Known = {}): Verified => {
  mustExist(path);
  if (existsSync(file))
    throw new LogError(`${file} exists already; nothing is written over, name another file`, {
      code: 'in-use',
    });
  const unfinished = `${file}-new`;
  try {
    rmSync(unfinished, { force: true });
    copyInto(path, unfinished);
    const verified = auditFile(unfinished, known);
    if (verified.damage.length === 0) {
      renameSync(unfinished, file);
      syncFolder(dirname(file));
    }
    return verified;
  } catch (cause) {
    throw notCopied(file, cause);
  } finally {
    rmSync(unfinished, { force: true });
  }
};
