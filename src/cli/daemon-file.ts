import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { z } from 'zod';

/** Where the daemon that writes a log answers, and its process; beside the log while it runs. */
const fileOf = (log: string): string => `${log}-daemon`;

const toldSchema = z.strictObject({
  pid: z.int().min(1),
  url: z.string().regex(/^http:\/\/127\.0\.0\.1:\d+$/),
});

export const tellWhere = (log: string, url: string): void =>
  writeFileSync(fileOf(log), `${JSON.stringify({ pid: process.pid, url })}\n`, { mode: 0o600 });

export const forgetWhere = (log: string): void => rmSync(fileOf(log), { force: true });

const isAlive = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as { code?: unknown }).code === 'EPERM';
  }
};

/** Undefined: nobody said, or whoever did has ended; on his port somebody else may listen by now. */
export const whereTold = (log: string): string | undefined => {
  try {
    const told = toldSchema.safeParse(JSON.parse(readFileSync(fileOf(log), 'utf8')));
    return told.success && isAlive(told.data.pid) ? told.data.url : undefined;
  } catch {
    return undefined;
  }
};
