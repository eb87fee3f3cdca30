import type Database from 'better-sqlite3';
import { isSigned, keyFingerprint, rootOf, type SignedCheckpoint } from '../record/index.ts';
import { type Signer, verifySignature } from './ed25519.ts';
import { readStored, type Stored } from './frontier.ts';
import { headFile, headOf } from './head.ts';
import { sha256 } from './sha256.ts';
import { dropNextKey, nextKey, promoteNextKey, siteKey, siteKeyOrNew } from './site-key.ts';
import { LogError, type Opening } from './types.ts';

/** What somebody asked for who knows that the key, or the newest file, is lost. */
export interface Consent {
  /** Go on with the key that is there, without the old one's proof. */
  readonly adopt?: boolean;
  /** Go on from an older copy of the log. */
  readonly restore?: boolean;
}

/** A log that may be written on: what is stored, and who signs. */
export interface Ready {
  readonly stored: Stored;
  readonly signer: Signer;
  /** The signer is not the key in force: it must be entered first. */
  readonly adopt: boolean;
  /** The newest checkpoint that is known of what is lost: it must be entered first. */
  readonly lost: SignedCheckpoint | undefined;
  readonly told: readonly Opening[];
}

const short = (key: string): string => keyFingerprint(sha256, key);

const otherKey = (path: string, keys: string, wanted: string, found: Signer | undefined): LogError => {
  const there = found === undefined ? 'there is no key' : `there is ${short(found.key)}`;
  return new LogError(
    `${path} is signed with the key ${short(wanted)}, but in ${keys} ${there}. Put the right key back from its backup; ` +
      `if it is lost for good: tripwitness keys adopt ${path} (audit then names the break in the chain of keys)`,
    { code: 'other-key' },
  );
};

/** The key that the log is signed with. A rotation that was cut short behind its entry is finished. */
const signerFor = (path: string, keys: string, key: string, told: Opening[]): Signer => {
  const [now, next] = [siteKey(keys), nextKey(keys)];
  if (now?.key === key) {
    if (next !== undefined) dropNextKey(keys);
    return now;
  }
  if (next?.key !== key) throw otherKey(path, keys, key, now);
  promoteNextKey(keys);
  told.push({ code: 'rotation-finished', params: { key: short(key) } });
  return next;
};

const madeOrFound = (keys: string, told: Opening[]): Signer => {
  const before = siteKey(keys);
  const signer = before ?? siteKeyOrNew(keys);
  if (before === undefined) told.push({ code: 'key-made', params: { keys, key: short(signer.key) } });
  return signer;
};

/** A last checkpoint that is not signed by the key that it names was not made by this program. */
const refuseUnsigned = (path: string, key: string, { last, log }: Stored): void => {
  const { size = 0, root = '', utc = '', signature } = last ?? {};
  if (isSigned(verifySignature, { key, log, size, root, utc, signature: signature ?? '' })) return;
  throw new LogError(`${path}: the last checkpoint is not signed; run audit, and start a new log`, {
    code: 'damaged',
  });
};

const signerOf = (
  path: string,
  keys: string,
  stored: Stored,
  told: Opening[],
  mayDiffer: boolean,
): Signer => {
  const inForce = stored.last?.key ?? undefined;
  if (inForce === undefined) return madeOrFound(keys, told);
  const signer = mayDiffer ? madeOrFound(keys, told) : signerFor(path, keys, inForce, told);
  refuseUnsigned(path, inForce, stored);
  return signer;
};

/** Holds what is stored against what is remembered outside; true where it is older and may be so. */
const isOlder = (
  path: string,
  keys: string,
  head: SignedCheckpoint,
  stored: Stored,
  { restore = false }: Consent,
): boolean => {
  const { frontier, log, rootAt } = stored;
  const file = headFile(keys, path);
  if (head.log !== log)
    throw new LogError(
      `${path} is another log than the one that ${file} remembers (${head.size} entries, ${head.utc}); ` +
        'put the right file back, or name another log',
      { code: 'rolled-back' },
    );
  if (head.size > frontier.size && restore) return true;
  if (head.size > frontier.size)
    throw new LogError(
      `${path} ends at entry ${frontier.size - 1}, but ${file} remembers ${head.size} entries (${head.utc}): it was put back ` +
        `to an older copy, or cut off. Put the newest file back; if that is lost: tripwitness restore ${path}`,
      { code: 'rolled-back' },
    );
  if ((head.size === frontier.size ? rootOf(sha256, frontier) : rootAt) !== head.root)
    throw new LogError(`${path} is not what ${file} remembers of it; run audit, and start a new log`, {
      code: 'damaged',
    });
  return false;
};

/**
 * Reads a log and the folder of its keys, and refuses where one does not belong to the other and nobody consented. Changes no
 * entry.
 */
export const prepareWriting = (
  database: Database.Database,
  path: string,
  keys: string,
  consent: Consent,
): Ready => {
  const told: Opening[] = [];
  const head = headOf(keys, path);
  const remembered = typeof head === 'string' ? undefined : head;
  if (head === 'unreadable') told.push({ code: 'head-unreadable', params: { file: headFile(keys, path) } });
  const stored = readStored(database, path, remembered?.size);
  const older = remembered !== undefined && isOlder(path, keys, remembered, stored, consent);
  // The newest key may be from after the copy was made.
  const mayDiffer = consent.adopt === true || (older && siteKey(keys)?.key === remembered.key);
  const signer = signerOf(path, keys, stored, told, mayDiffer);
  const adopt = stored.frontier.size > 0 && stored.last?.key !== signer.key;
  if (adopt)
    told.push({ code: 'key-adopted', params: { key: short(signer.key), entries: stored.frontier.size } });
  if (older) told.push({ code: 'log-restored-now', params: { size: remembered.size, utc: remembered.utc } });
  return { stored, signer, adopt, lost: older ? remembered : undefined, told };
};
