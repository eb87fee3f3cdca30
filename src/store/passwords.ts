import { randomBytes, type ScryptOptions, scrypt, timingSafeEqual } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import type { Reason } from '../measure/index.ts';
import { takeLock } from './lock.ts';
import { LogError } from './types.ts';
import { putWhole } from './whole-file.ts';

/** scrypt (RFC 7914): 32 MiB and about a tenth of a second for one guess. */
const COST = { N: 32_768, r: 8, p: 1 } as const;
const SALT_BYTES = 16;
const HASH_BYTES = 32;
/** A file that asks for more than this is not ours to obey. */
const MOST_MEMORY = 256 * 1_024 * 1_024;

/** Characters. NIST SP 800-63B asks for 8 at least (from memory). */
const LEAST = 12;
const MOST = 256;

/** After so many wrong passwords in a row an account is locked. Common practice, no source. */
export const MOST_FAILURES = 5;

const hex = (bytes: number) => z.string().regex(new RegExp(`^[0-9a-f]{${bytes * 2}}$`));

const secretSchema = z.strictObject({
  /** Number of the entry that this password was set with. */
  set: z.int().min(0),
  failures: z.int().min(0),
  scrypt: z.strictObject({
    N: z.int().min(COST.N),
    r: z.int().min(1).max(64),
    p: z.int().min(1).max(16),
    salt: hex(SALT_BYTES),
    hash: hex(HASH_BYTES),
  }),
});
type Secret = z.infer<typeof secretSchema>;

/** Accounts of all logs of a folder, by the identity of the log. */
const fileSchema = z.strictObject({
  version: z.literal(1),
  logs: z.record(z.string(), z.record(z.string(), secretSchema)),
});
type Kept = z.infer<typeof fileSchema>;

/** A password that was made ready before its entry is written, so that nothing slow stands between the two. */
export interface Prepared {
  readonly scrypt: Secret['scrypt'];
}

export type Checked =
  | { readonly outcome: 'right' }
  | { readonly outcome: 'wrong'; readonly failures: number }
  /** The file knows no password of that entry. */
  | { readonly outcome: 'lost' };

/** The passwords of the accounts of one log; only their hashes are kept, in `people.json` beside it, for its owner alone. */
export interface Passwords {
  /** `set`: number of the entry that the password must have been set with; undefined: there is no such account. */
  check(id: string, password: string, set: number | undefined): Promise<Checked>;
  /** Whether the file knows the password of that entry. */
  knows(id: string, set: number): boolean;
  put(id: string, prepared: Prepared, set: number): void;
  /** Wrong passwords are counted from 0 again. */
  forgive(id: string): void;
}

/** Unicode has several spellings of one text; what is typed on another keyboard must not differ. */
const bytesOf = (password: string): Buffer => Buffer.from(password.normalize('NFKC'), 'utf8');

const derive = (password: string, salt: Buffer, cost: ScryptOptions): Promise<Buffer> =>
  new Promise((resolve, reject) => {
    scrypt(bytesOf(password), salt, HASH_BYTES, { ...cost, maxmem: MOST_MEMORY }, (error, key) =>
      error === null ? resolve(key) : reject(error),
    );
  });

/** Why a new password is refused; undefined: it is good. */
export const passwordFault = (password: string, id: string, name: string): Reason | undefined => {
  const length = [...password.normalize('NFKC')].length;
  if (length < LEAST) return { code: 'password-short', params: { least: LEAST } };
  if (length > MOST) return { code: 'password-long', params: { most: MOST } };
  const folded = password.trim().toLowerCase();
  const isName = [id, name].some((one) => one.trim().toLowerCase() === folded);
  return isName ? { code: 'password-name', params: {} } : undefined;
};

/** Throws nothing about the password itself. */
export const preparePassword = async (password: string): Promise<Prepared> => {
  const salt = randomBytes(SALT_BYTES);
  const hash = await derive(password, salt, COST);
  return { scrypt: { ...COST, salt: salt.toString('hex'), hash: hash.toString('hex') } };
};

const isRight = async (password: string, { scrypt: kept }: Secret): Promise<boolean> => {
  const { salt, hash, ...cost } = kept;
  const found = await derive(password, Buffer.from(salt, 'hex'), cost);
  return timingSafeEqual(found, Buffer.from(hash, 'hex'));
};

const parsed = (text: string): Kept | undefined => {
  try {
    return fileSchema.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
};

const read = (path: string): Kept => {
  if (!existsSync(path)) return { version: 1, logs: {} };
  const kept = parsed(readFileSync(path, 'utf8'));
  if (kept !== undefined) return kept;
  // What is wrong with it is not told: a message could show a part of it.
  throw new LogError(`${path} is no file of passwords as this program writes it; restore it from a backup`, {
    code: 'damaged',
  });
};

const write = (path: string, kept: Kept): void => {
  try {
    putWhole(path, `${JSON.stringify(kept, null, 1)}\n`, { sync: true });
  } catch (cause) {
    throw new LogError(`${path} cannot be written: ${String(cause)}; check space and rights`, {
      code: 'write-failed',
      cause,
    });
  }
};

/** `log`: the identity of the log, as its genesis says. */
export const passwordsOf = (logPath: string, log: string): Passwords => {
  const path = join(dirname(logPath), 'people.json');

  const change = (id: string, made: (before: Secret | undefined) => Secret): Secret => {
    const lock = takeLock(path);
    try {
      const kept = read(path);
      const own = kept.logs[log] ?? {};
      const secret = made(Object.hasOwn(own, id) ? own[id] : undefined);
      write(path, { ...kept, logs: { ...kept.logs, [log]: { ...own, [id]: secret } } });
      return secret;
    } finally {
      lock.release();
    }
  };

  const secretOf = (id: string): Secret | undefined => {
    const own = read(path).logs[log] ?? {};
    return Object.hasOwn(own, id) ? own[id] : undefined;
  };

  const counted = (id: string, secret: Secret, failures: number): void => {
    if (secret.failures !== failures) change(id, (before) => ({ ...(before ?? secret), failures }));
  };

  return {
    async check(id, password, set) {
      const secret = secretOf(id);
      if (set === undefined || secret === undefined) {
        // Takes as long as if there were one, so that nobody learns by the clock which ids there are.
        await derive(password, randomBytes(SALT_BYTES), COST);
        return set === undefined ? { outcome: 'wrong', failures: 0 } : { outcome: 'lost' };
      }
      if (secret.set !== set) return { outcome: 'lost' };
      const right = await isRight(password, secret);
      const failures = right ? 0 : secret.failures + 1;
      counted(id, secret, failures);
      return right ? { outcome: 'right' } : { outcome: 'wrong', failures };
    },
    knows: (id, set) => secretOf(id)?.set === set,
    put(id, prepared, set) {
      change(id, () => ({ set, failures: 0, scrypt: prepared.scrypt }));
    },
    forgive(id) {
      const secret = secretOf(id);
      if (secret !== undefined) counted(id, secret, 0);
    },
  };
};
