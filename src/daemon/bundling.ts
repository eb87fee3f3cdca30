import {
  type Bundle,
  bundleSource,
  type Entry,
  type LogSource,
  makeBundle,
  type SignedCheckpoint,
  type VerifiedBundle,
  verifyBundle,
} from '../record/index.ts';
import { sha256, verifySignature } from '../store/index.ts';
import { type Recheck, recheckWindow, storedWindow } from './replay.ts';

/** The newest checkpoint that is signed; undefined in a log that no key has signed yet. */
const newestSigned = (source: LogSource, entries: readonly Entry[]): SignedCheckpoint | undefined => {
  const log = String(entries[0]?.body['log'] ?? '');
  // The entries were read a moment earlier than the checkpoints: what was entered in between is left to the next time.
  const most = (entries.at(-1)?.seq ?? -1) + 1;
  let newest: SignedCheckpoint | undefined;
  for (const { size, root, key, utc, signature } of source.checkpoints()) {
    if (size > most) break;
    if (typeof key === 'string' && typeof signature === 'string' && typeof utc === 'string')
      newest = { key, log, root, size, utc, signature };
  }
  return newest;
};

/** These windows of a log as a bundle; undefined where no checkpoint of it is signed. */
export const bundleOf = (
  source: LogSource,
  entries: readonly Entry[],
  windows: readonly string[],
): Bundle | undefined => {
  const checkpoint = newestSigned(source, entries);
  return checkpoint && makeBundle(sha256, source, entries, windows, checkpoint);
};

/** A bundle verified, and its windows judged again where it is whole. */
export interface AuditedBundle extends VerifiedBundle {
  readonly again: readonly Recheck[];
}

export const auditBundle = (text: string): AuditedBundle => {
  const verified = verifyBundle(text, sha256, verifySignature);
  const { bundle, entries, windows, damage } = verified;
  if (bundle === undefined || damage.length > 0) return { ...verified, again: [] };
  const source = bundleSource(sha256, bundle);
  const again = windows.flatMap(({ window }) => {
    const stored = storedWindow(source, entries, window);
    return stored === undefined ? [] : [recheckWindow(stored)];
  });
  return { ...verified, again };
};
