import { existsSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import {
  canonicalText,
  checkpointIn,
  isWhole,
  type KeptCheckpoint,
  type SignedCheckpoint,
} from '../record/index.ts';
import { verifySignature } from './ed25519.ts';
import { LogError } from './types.ts';
import { putWhole } from './whole-file.ts';

/**
 * The memory outside of the log: its newest signed checkpoint, beside the keys, by the name of the log file,
 * with the digest over all checkpoints up to it. A file can be
 * put back to an older copy of itself without a trace in it; this is what tells.
 */
export const headFile = (keys: string, log: string): string => join(keys, `${basename(log)}.head.json`);

/**
 * Without `sync` a power cut may bring back an older one, which the log still contains: a batch need not wait for the disk a
 * second time.
 */
export const putHead = (
  keys: string,
  log: string,
  head: SignedCheckpoint,
  chain: string,
  options: { readonly sync: boolean } = { sync: false },
): void => {
  const { key, root, size, utc, signature } = head;
  const text = canonicalText({ chain, key, log: head.log, root, size, utc, signature, version: 1 });
  try {
    putWhole(headFile(keys, log), `${text}\n`, options);
  } catch (cause) {
    throw new LogError(
      `the entries are stored, but their checkpoint cannot be kept in ${keys}: ${String(cause)}; check space and rights`,
      { code: 'write-failed', cause },
    );
  }
};

const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
};

/** The checkpoint that a file of that kind holds; undefined where it is not signed, or no checkpoint. */
export const headIn = (path: string): (SignedCheckpoint & KeptCheckpoint) | undefined => {
  const kept = checkpointIn(parsed(readFileSync(path, 'utf8')));
  return kept !== undefined && isWhole(verifySignature, kept) ? kept : undefined;
};

/** `none`: nothing is remembered of a log of that name. `unreadable`: there was something. */
export const headOf = (keys: string, log: string): SignedCheckpoint | 'none' | 'unreadable' => {
  const path = headFile(keys, log);
  return existsSync(path) ? (headIn(path) ?? 'unreadable') : 'none';
};
