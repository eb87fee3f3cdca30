import { type CoreOptions, openCore } from './log-core.ts';
import { dropNextKey, keysBeside, makeNextKey, promoteNextKey } from './site-key.ts';
import type { Head, Opening } from './types.ts';

/** What a log is after something was done to it, and what that was. */
export interface Done {
  readonly head: Head;
  readonly opening: readonly Opening[];
}

/**
 * Makes a new site key and enters it, signed for by the old one, which is then gone. The new key is on the disk before its
 * entry is: a crash between leaves a key that was never used, a crash behind the entry is finished at the next opening.
 */
export const rotateKey = (path: string, options: CoreOptions = {}): Done => {
  const { keys = keysBeside(path) } = options;
  const core = openCore(path, options);
  try {
    const next = makeNextKey(keys);
    try {
      core.changeKey(next);
    } catch (error) {
      if (core.head().key !== next.key) dropNextKey(keys);
      throw error;
    }
    promoteNextKey(keys);
    return { head: core.head(), opening: core.opening() };
  } finally {
    core.close();
  }
};

const opened = (path: string, options: CoreOptions): Done => {
  const core = openCore(path, options);
  core.close();
  return { head: core.head(), opening: core.opening() };
};

/** Goes on with the key that is in the folder, or a new one, where the one in force is lost. */
export const adoptKey = (path: string, options: CoreOptions = {}): Done =>
  opened(path, { ...options, adopt: true });

/** Goes on from an older copy that was put in place of the log; what was known of the lost entries is entered. */
export const restoreLog = (path: string, options: CoreOptions = {}): Done =>
  opened(path, { ...options, restore: true });
