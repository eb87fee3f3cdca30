import { readFileSync, rmSync, writeFileSync } from 'node:fs';

/** Where the daemon that writes a log answers; beside the log while it runs. */
const fileOf = (log: string): string => `${log}-daemon`;

export const tellWhere = (log: string, url: string): void => writeFileSync(fileOf(log), `${url}\n`);

export const forgetWhere = (log: string): void => rmSync(fileOf(log), { force: true });

/** What was told last; a daemon that was killed leaves it behind, so whoever asks looks who answers. */
export const whereTold = (log: string): string | undefined => {
  try {
    const told = readFileSync(fileOf(log), 'utf8').trim();
    return /^http:\/\/[\w.:[\]]+$/.test(told) ? told : undefined;
  } catch {
    return undefined;
  }
};
