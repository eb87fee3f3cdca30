import { existsSync } from 'node:fs';
import { EXIT, Stop } from './io.ts';

/** The default of `--keys`. */
export const BESIDE = 'beside it';

/** Folder of the keys of that log, as it was named. */
export const keysOf = async (log: string, folder: string): Promise<string> => {
  const { keysBeside } = await import('../store/index.ts');
  return folder === BESIDE ? keysBeside(log) : folder;
};

/** The same, where it must be there if it was named, and is not looked for if it is not. */
export const keysIfThere = async (log: string, folder: string): Promise<string | undefined> => {
  const keys = await keysOf(log, folder);
  if (existsSync(keys)) return keys;
  if (folder === BESIDE) return undefined;
  throw new Stop(`${keys} is not there; name the folder of the site key`, { exit: EXIT.usage });
};
