import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

/** Keeps the names in a folder through a power cut. */
export const syncFolder = (folder: string): void => {
  const open = openSync(folder, 'r');
  try {
    fsyncSync(open);
  } finally {
    closeSync(open);
  }
};

/**
 * Puts a file in place as a whole, with mode 0600: whoever looks, also after a crash of the program, finds the old one or the
 * new one. `sync` keeps that through a power cut.
 */
export const putWhole = (path: string, text: string, options: { readonly sync: boolean }): void => {
  const unfinished = `${path}.new`;
  rmSync(unfinished, { force: true });
  const file = openSync(unfinished, 'wx', 0o600);
  try {
    writeFileSync(file, text);
    if (options.sync) fsyncSync(file);
  } finally {
    closeSync(file);
  }
  renameSync(unfinished, path);
  if (options.sync) syncFolder(dirname(path));
};
