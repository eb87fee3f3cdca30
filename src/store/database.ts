import Database from 'better-sqlite3';
import { LogError } from './types.ts';

/**
 * Opens a file of SQLite. Its library is compiled for one version of Node: whoever starts the program with another is told so,
 * since nothing is wrong with the log.
 */
export const openDatabase = (path: string, options: Database.Options): Database.Database => {
  try {
    return new Database(path, options);
  } catch (cause) {
    if ((cause as { code?: unknown }).code !== 'ERR_DLOPEN_FAILED') throw cause;
    throw new LogError(
      `SQLite's library was not made for this Node, ${process.version}: run "npm rebuild better-sqlite3" where the program is installed, or start it with the Node that installed it`,
      { code: 'no-access', cause },
    );
  }
};
