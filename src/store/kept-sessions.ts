import { existsSync, readFileSync, rmSync } from 'node:fs';
import { z } from 'zod';
import { putWhole } from './whole-file.ts';

const sha256Hex = z.string().regex(/^[0-9a-f]{64}$/);
const moment = z.int().min(0);

const keptSchema = z.strictObject({
  /** SHA-256 of the secret that the browser holds; the secret itself is kept nowhere. */
  hash: sha256Hex,
  id: z.string().min(1).max(120),
  /** What the account was at sign-in: number of the entry that set its password, and its roles. */
  password: z.int().min(0),
  roles: z.array(z.string()),
  /** Microseconds since 1970, UTC. */
  began: moment,
  used: moment,
});
export type KeptSession = z.infer<typeof keptSchema>;

const fileSchema = z.strictObject({
  version: z.literal(1),
  log: z.string(),
  sessions: z.array(keptSchema),
});

/** Sessions of a daemon that outlive it, so that a restart in the midst of a test asks nobody for his password again. */
export interface KeptSessions {
  read(): readonly KeptSession[];
  write(sessions: readonly KeptSession[]): void;
}

const parsed = (text: string): z.infer<typeof fileSchema> | undefined => {
  try {
    return fileSchema.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
};

/**
 * `LOG-sessions`, for its owner alone. A file that is damaged, or of another log, holds no session: whoever was signed in signs
 * in again. `log`: the identity of the log, as its genesis says.
 */
export const sessionsBeside = (logPath: string, log: string): KeptSessions => {
  const path = `${logPath}-sessions`;
  return {
    read() {
      const kept = existsSync(path) ? parsed(readFileSync(path, 'utf8')) : undefined;
      return kept?.log === log ? kept.sessions : [];
    },
    write(sessions) {
      if (sessions.length === 0) rmSync(path, { force: true });
      else putWhole(path, `${JSON.stringify({ version: 1, log, sessions })}\n`, { sync: false });
    },
  };
};
