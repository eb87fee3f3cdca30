import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import {
  type Anchor,
  checkpointIn,
  type Damage,
  isWhole,
  type KeptCheckpoint,
  type Outside,
  type SignedCheckpoint,
  type Verified,
} from '../record/index.ts';
import { verifySignature } from './ed25519.ts';
import { headFile, headIn } from './head.ts';
import { type LogReader, readLog } from './read.ts';
import { nextKey, siteKey } from './site-key.ts';
import { LogError } from './types.ts';

/** What a log can be held against. */
export interface Known {
  /** Folder of the site key, with what is remembered of the log. */
  readonly keys?: string;
  /** Reports, bundles or checkpoints as JSON, or older copies of the log. */
  readonly against?: readonly string[];
  /** From paper, in the form of `readFingerprint`. */
  readonly fingerprint?: string;
}

interface Found {
  readonly anchors: Anchor[];
  readonly notes: Damage[];
  key?: { readonly from: string; readonly key: string };
}

const note = (code: string, params: Damage['reason']['params']): Damage => ({ reason: { code, params } });

/** Memories in that folder, whatever log they are of. */
const headsIn = (
  keys: string,
): { readonly file: string; readonly head: (SignedCheckpoint & KeptCheckpoint) | undefined }[] =>
  readdirSync(keys)
    .filter((name) => name.endsWith('.head.json'))
    .map((name) => ({ file: join(keys, name), head: headIn(join(keys, name)) }));

/**
 * The memory that goes by the name of this file must be of it, and no newer. Under another name it is a copy: it may be
 * older, and must be the same as far as it goes.
 */
const lookInKeys = (path: string, log: string, keys: string, found: Found): void => {
  const heads = headsIn(keys);
  const own = heads.find(({ file }) => file === headFile(keys, path));
  const newest = heads
    .filter(({ head }) => head?.log === log)
    .sort((a, b) => (b.head?.size ?? 0) - (a.head?.size ?? 0))[0];
  const chosen = own ?? newest;
  if (chosen !== undefined && chosen.head === undefined)
    found.notes.push(note('head-no-memory', { file: chosen.file }));
  if (chosen?.head !== undefined)
    found.anchors.push({
      from: basename(chosen.file),
      checkpoint: chosen.head,
      mayBeOlder: chosen !== own,
    });
  else if (chosen === undefined) found.notes.push(note('no-memory', { keys }));
  // A copy may be from before the key was changed.
  if (chosen !== undefined && chosen !== own) return;
  const next = nextKey(keys);
  const key = next !== undefined && chosen?.head?.key === next.key ? next.key : siteKey(keys)?.key;
  if (key !== undefined) found.key = { from: keys, key };
};

const isDatabase = (bytes: Uint8Array): boolean =>
  Buffer.from(bytes.subarray(0, 15)).toString('latin1') === 'SQLite format 3';

const documentIn = (bytes: Uint8Array): unknown => {
  try {
    return JSON.parse(Buffer.from(bytes).toString('utf8'));
  } catch {
    return undefined;
  }
};

const noUse = (file: string, why: string): LogError =>
  new LogError(`${file} ${why}`, { code: 'no-checkpoint' });

/** The newest checkpoint that a file holds: of a log, of a report or bundle as JSON, or alone. */
const checkpointOf = (file: string): KeptCheckpoint => {
  if (!existsSync(file))
    throw noUse(file, 'is not there; name a report (JSON), a bundle or a copy of the log');
  const bytes = readFileSync(file);
  const kept = isDatabase(bytes) ? checkpointOfLog(file) : checkpointIn(documentIn(bytes));
  if (kept === undefined)
    throw noUse(file, 'holds no checkpoint; name a report (JSON), a bundle or a copy of the log');
  if (kept.signature !== undefined && !isWhole(verifySignature, kept))
    throw noUse(file, 'carries a checkpoint whose signature does not fit it; it proves nothing');
  return kept;
};

const checkpointOfLog = (file: string): KeptCheckpoint | undefined => {
  const reader = readLog(file);
  try {
    return reader.checkpoint();
  } finally {
    reader.close();
  }
};

/** Gathers what a log of that identity is held against. Throws a LogError for a file that is no evidence. */
export const outsideOf = (
  path: string,
  log: string,
  { keys, against = [], fingerprint }: Known,
): { readonly outside: Outside; readonly notes: readonly Damage[] } => {
  const found: Found = { anchors: [], notes: [] };
  if (keys !== undefined) lookInKeys(path, log, keys, found);
  for (const file of against)
    found.anchors.push({ from: file, checkpoint: checkpointOf(file), mayBeOlder: false });
  return {
    outside: {
      anchors: found.anchors,
      ...(fingerprint !== undefined && { fingerprint }),
      ...(found.key && { key: found.key }),
    },
    notes: found.notes,
  };
};

const firstDifference = (one: LogReader, other: LogReader): number | undefined => {
  const others = other.entries();
  try {
    for (const { seq, text } of one.entries()) {
      const next = others.next();
      if (next.done === true) return undefined;
      if (next.value.text !== text) return Math.min(seq, next.value.seq);
    }
    return undefined;
  } finally {
    // Ends the query, without which the database cannot be closed.
    others.return(undefined);
  }
};

/** Where the log and a copy of it that does not fit go different ways. */
export const partings = (reader: LogReader, verified: Verified, { against = [] }: Known): Damage[] =>
  against.flatMap((file): Damage[] => {
    const isDifferent = verified.damage.some(
      ({ reason }) => reason.code.startsWith('anchor-') && reason.params['from'] === file,
    );
    if (!isDifferent || !isDatabase(readFileSync(file))) return [];
    const copy = readLog(file);
    try {
      const entry = firstDifference(reader, copy);
      return entry === undefined ? [] : [{ entry, ...note('copy-parts', { from: file }) }];
    } finally {
      copy.close();
    }
  });
