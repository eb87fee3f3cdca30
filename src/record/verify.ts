import { parseEntry } from './canonical.ts';
import { type Anchors, followAnchors, type Outside } from './chain/anchors.ts';
import { breaksOf } from './chain/breaks.ts';
import type { StoredCheckpoint, Verify } from './chain/checkpoint.ts';
import { fingerprintOf } from './chain/fingerprint.ts';
import { followKeys, type Keychain, type KeyLink } from './chain/keychain.ts';
import { followRoots } from './chain/roots.ts';
import { lookAtSeals } from './chain/seal.ts';
import { leafOfText } from './chain/tree.ts';
import type { LogSource } from './log-source.ts';
import { followPaperwork } from './people/signing-check.ts';
import type { Damage, Entry, Hash, Report } from './types.ts';
import { followWindow } from './windows.ts';

export interface Verified {
  readonly entries: number;
  readonly root: string;
  /** Identity of the log, from its genesis; '' where that cannot be read. */
  readonly log: string;
  /** Short form of log, root and number of entries, for comparing with paper. */
  readonly fingerprint: string;
  readonly damage: readonly Damage[];
  /** Its keys, oldest first; the last one is in force. */
  readonly keys: readonly KeyLink[];
  /** Places where the log goes on without a proof from what stands before it; `entry` is the first behind. No damage. */
  readonly breaks: readonly Damage[];
  /** So many entries from the beginning are known from outside of the file too; 0: nothing was held against it. */
  readonly vouched: number;
  /** What is worth knowing, and no damage. */
  readonly notes: readonly Damage[];
  /** Windows that were opened and neither closed nor entered as interrupted. */
  readonly open: readonly string[];
}

interface Look {
  readonly hash: Hash;
  readonly source: LogSource;
  readonly report: Report;
  readonly keychain: Keychain;
  readonly anchors: Anchors;
  readonly restored: Entry[];
  readonly open: Set<string>;
  readonly blocks: Set<string>;
}

const MOST_DAMAGE = 1_000;

const newReport = (): { readonly report: Report; damage(): Damage[] } => {
  const kept: Damage[] = [];
  let more = 0;
  return {
    report(code, params, entry) {
      if (kept.length < MOST_DAMAGE)
        kept.push({ ...(entry !== undefined && { entry }), reason: { code, params } });
      else more += 1;
    },
    damage: () =>
      more === 0 ? kept : [...kept, { reason: { code: 'more-damage', params: { count: more } } }],
  };
};

const checkBlock = ({ source, hash, report, blocks }: Look, entry: Entry): void => {
  if (entry.kind !== 'trace') return;
  const wanted = entry.body['block'];
  if (typeof wanted !== 'string') {
    report('trace-without-block', { kind: entry.kind }, entry.seq);
    return;
  }
  blocks.add(wanted);
  const bytes = source.block(wanted);
  if (bytes === undefined) report('block-missing', { block: wanted }, entry.seq);
  else if (hash(bytes) !== wanted) report('block-altered', { block: wanted }, entry.seq);
};

const checkEntry = (look: Look, seq: number, text: string, sound: boolean): Entry | undefined => {
  const parsed = parseEntry(text);
  if ('fault' in parsed) {
    look.report('entry-unreadable', { why: parsed.fault }, seq);
    return undefined;
  }
  const { entry } = parsed;
  if (entry.seq !== seq) look.report('entry-misplaced', { says: entry.seq }, seq);
  if ((seq === 0) !== (entry.kind === 'genesis')) look.report('genesis-misplaced', { kind: entry.kind }, seq);
  checkBlock(look, { ...entry, seq });
  look.keychain.take({ ...entry, seq }, sound);
  if (entry.kind === 'restored') look.restored.push({ ...entry, seq });
  followWindow(look.open, entry);
  return entry;
};

const checkEntries = (look: Look, checkpoints: Iterable<StoredCheckpoint>) => {
  const { hash, report, keychain } = look;
  const roots = followRoots(hash, checkpoints, report, keychain.faultOf);
  const paperwork = followPaperwork(hash);
  let [at, entries] = [0, 0];
  for (const { seq, text, leaf } of look.source.entries()) {
    if (!Number.isSafeInteger(seq) || seq < at) {
      report('entry-misplaced', { says: seq }, at);
      roots.skip(at);
      continue;
    }
    if (seq > at) {
      report('entry-missing', { from: at, to: seq - 1 }, at);
      roots.skip(seq);
    }
    const real = leafOfText(hash, text);
    if (real !== leaf) report('entry-altered', {}, seq);
    const entry = checkEntry(look, seq, text, real === leaf);
    roots.take(real, leaf, entry?.utc);
    if (entry !== undefined) paperwork.take(entry, real);
    look.anchors.take(seq + 1, roots.root);
    at = seq + 1;
    entries += 1;
  }
  roots.end();
  for (const { reason, entry } of paperwork.damage()) report(reason.code, reason.params, entry);
  return { entries, root: roots.root() };
};

/**
 * Reads the whole log: every entry canonical and in its place, its stored leaf the hash of its text, every stored
 * checkpoint the root of what stands before it and signed by the key in force, every trace block whole. Names each entry
 * that is not what it was.
 *
 * What a file alone cannot show: that its last entries were taken away together with their checkpoints, or that all of it
 * was written anew under another key. `outside` brings in what was kept elsewhere.
 */
export const verifyLog = (
  source: LogSource,
  hash: Hash,
  verify: Verify,
  outside: Outside = { anchors: [] },
): Verified => {
  const { report, damage } = newReport();
  const notes: Damage[] = [];
  const kept = new Set(outside.anchors.map(({ checkpoint }) => checkpoint.size));
  const seals = lookAtSeals(hash, source, kept, report);
  const keychain = followKeys(verify, report, seals.upTo);
  const anchors = followAnchors(hash, outside, report, (note) => notes.push(note));
  const look: Look = {
    hash,
    source,
    report,
    keychain,
    anchors,
    restored: [],
    open: new Set(),
    blocks: new Set(),
  };
  const { entries, root } = checkEntries(look, source.checkpoints());
  if (entries === 0) report('log-empty', {});
  for (const block of source.blockNames?.() ?? [])
    if (!look.blocks.has(block)) report('block-unnamed', { block });
  const [log, keys] = [keychain.log(), keychain.links()];
  const vouched = anchors.end({ log, entries, keys, seals }, source);
  return {
    entries,
    root,
    log,
    fingerprint: fingerprintOf(hash, { log, root, size: entries }),
    damage: damage(),
    keys,
    breaks: breaksOf(hash, keys, look.restored),
    vouched,
    notes,
    open: [...look.open],
  };
};
