import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { dirname } from 'node:path';
import { LogError } from './types.ts';

const synced = (path: string, flags: string, work: (file: number) => void): void => {
  const file = openSync(path, flags, 0o600);
  try {
    work(file);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
};

/**
 * Writes a small secret file so that at any moment, also after a power cut, either the old or the new one is there whole;
 * for its owner alone (0600). Throws a LogError.
 */
export const writeWhole = (path: string, text: string): void => {
  const unfinished = `${path}-new`;
  try {
    rmSync(unfinished, { force: true });
    // A file that is there already would keep its rights: `wx` makes a new one.
    synced(unfinished, 'wx', (file) => writeSync(file, text));
    renameSync(unfinished, path);
    if (process.platform !== 'win32') synced(dirname(path), 'r', () => undefined);
  } catch (cause) {
    throw new LogError(`${path} cannot be written: ${String(cause)}; check space and rights`, {
      code: 'write-failed',
      cause,
    });
  }
};
