import { createPrivateKey, generateKeyPairSync } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { type Signer, signerOf } from './ed25519.ts';
import { LogError } from './types.ts';
import { putWhole, syncFolder } from './whole-file.ts';

/**
 * The site key: Ed25519, PKCS#8 in PEM, in a folder of its own that nobody else may read. While a rotation is under way the
 * next key lies beside it.
 */
const NOW = 'site-key.pem';
const NEXT = 'site-key-next.pem';
type Name = typeof NOW | typeof NEXT;

/** Where the keys of a log are kept unless somebody says otherwise. */
export const keysBeside = (log: string): string => join(dirname(log), 'keys');

const trouble = (message: string, cause?: unknown): LogError =>
  new LogError(message, { code: 'keys', cause });

/** Rights of others on a key are refused, not mended: whoever had them may have the key. */
const refuseLoose = (path: string, mode: string): void => {
  if (process.platform === 'win32') return;
  const given = statSync(path).mode & 0o777;
  if ((given & 0o077) === 0) return;
  throw trouble(
    `${path} is open to others (mode ${given.toString(8)}); ` +
      `if nobody can have read the key, run: chmod ${mode} ${path} ; else rotate it afterwards (keys rotate)`,
  );
};

const read = (folder: string, name: Name): Signer | undefined => {
  const path = join(folder, name);
  if (!existsSync(path)) return undefined;
  refuseLoose(folder, '700');
  refuseLoose(path, '600');
  try {
    const secret = createPrivateKey(readFileSync(path));
    if (secret.asymmetricKeyType === 'ed25519') return signerOf(secret);
  } catch (cause) {
    throw trouble(`${path} cannot be read as a key: ${String(cause)}; put back the right file`, cause);
  }
  throw trouble(`${path} is no Ed25519 key; put back the right file`);
};

const make = (folder: string, name: Name): Signer => {
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    refuseLoose(folder, '700');
    const { privateKey } = generateKeyPairSync('ed25519');
    putWhole(join(folder, name), String(privateKey.export({ type: 'pkcs8', format: 'pem' })), { sync: true });
    return signerOf(privateKey);
  } catch (cause) {
    if (cause instanceof LogError) throw cause;
    throw trouble(`no key can be made in ${folder}: ${String(cause)}; check space and rights`, cause);
  }
};

/** The key in that folder; undefined where there is none. Throws a LogError for one that cannot or must not be used. */
export const siteKey = (folder: string): Signer | undefined => read(folder, NOW);
/** The key in that folder, made there if there is none. */
export const siteKeyOrNew = (folder: string): Signer => siteKey(folder) ?? make(folder, NOW);

/** The public part of the key in that folder, 64 hex digits. */
export const publicKeyIn = (folder: string): string | undefined => siteKey(folder)?.key;

/** The key that a rotation has begun with, if one was cut short. */
export const nextKey = (folder: string): Signer | undefined => read(folder, NEXT);
/** A fresh key beside the one in use. One that a rotation left behind was never used: it is replaced. */
export const makeNextKey = (folder: string): Signer => make(folder, NEXT);
/** The next key becomes the one in use; the old one is gone. */
export const promoteNextKey = (folder: string): void => {
  renameSync(join(folder, NEXT), join(folder, NOW));
  syncFolder(folder);
};
export const dropNextKey = (folder: string): void => rmSync(join(folder, NEXT), { force: true });
