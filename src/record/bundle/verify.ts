import { parseEntry } from '../canonical.ts';
import type { Verify } from '../chain/checkpoint.ts';
import { leafOfText } from '../chain/tree.ts';
import type { Damage, Entry, Hash, Report } from '../types.ts';
import { type Bundle, bundledEntries } from './bundle.ts';
import { checkKeys } from './keys.ts';
import { bundleSource, readBundle } from './read.ts';
import { rootFrom } from './tree.ts';
import { type BundledWindow, checkWindow, type Line } from './windows.ts';

export interface VerifiedBundle {
  /** Undefined where it is none that can be read. */
  readonly bundle?: Bundle;
  readonly entries: readonly Entry[];
  readonly windows: readonly BundledWindow[];
  readonly damage: readonly Damage[];
}

const MOST_DAMAGE = 200;

interface Look {
  readonly hash: Hash;
  readonly verify: Verify;
  readonly bundle: Bundle;
  readonly report: Report;
}

const linesOf = ({ bundle, report }: Look): readonly Line[] => {
  const lines: Line[] = [];
  let last = -1;
  for (const { seq, text } of bundle.entries) {
    const parsed = parseEntry(text);
    if (seq <= last || seq >= bundle.checkpoint.size) report('entry-misplaced', { says: seq }, seq);
    else if ('fault' in parsed) report('entry-unreadable', { why: parsed.fault }, seq);
    else if (parsed.entry.seq !== seq) report('entry-misplaced', { says: parsed.entry.seq }, seq);
    else if ((parsed.entry.kind === 'genesis') !== (seq === 0))
      report('genesis-misplaced', { kind: parsed.entry.kind }, seq);
    else lines.push({ entry: parsed.entry, text });
    last = seq;
  }
  return lines;
};

const checkRoot = ({ hash, bundle, report }: Look): void => {
  const { size, root } = bundle.checkpoint;
  const leaves = new Map(bundle.entries.map(({ seq, text }) => [seq, leafOfText(hash, text)]));
  const rebuilt = rootFrom(hash, size, leaves, bundle.rest);
  if ('gap' in rebuilt) report('bundle-tree-gap', { at: rebuilt.gap });
  else if ('spare' in rebuilt) report('bundle-tree-spare', { at: rebuilt.spare });
  else if (rebuilt.root !== root) report('bundle-root-differs', { size });
};

const checkBlocks = ({ hash, bundle, report }: Look, lines: readonly Line[]): void => {
  const source = bundleSource(hash, bundle);
  const named = new Set<string>();
  for (const { entry } of lines) {
    if (entry.kind !== 'trace') continue;
    const block = String(entry.body['block']);
    named.add(block);
    const bytes = source.block(block);
    if (bytes === undefined) report('block-missing', { block }, entry.seq);
    else if (hash(bytes) !== block) report('block-altered', { block }, entry.seq);
  }
  for (const block of Object.keys(bundle.blocks)) if (!named.has(block)) report('block-unnamed', { block });
};

const checkGenesis = ({ bundle, report }: Look, lines: readonly Line[]): void => {
  const [first] = lines;
  if (first?.entry.kind !== 'genesis') report('bundle-genesis-missing', {});
  else if (first.entry.body['log'] !== bundle.log)
    report('bundle-other-log', { says: bundle.log, log: String(first.entry.body['log']) }, 0);
  const last = lines.at(-1)?.entry;
  const { size, utc } = bundle.checkpoint;
  if (last?.seq === size - 1 && last.utc !== utc) report('checkpoint-altered', { size }, last.seq);
};

/** Only what belongs to the windows: what else stands there was not asked for, and nobody has looked at it. */
const checkStrangers = ({ bundle, report }: Look, lines: readonly Line[]): void => {
  const entries = lines.map(({ entry }) => entry);
  const wanted = new Set(bundledEntries(entries, bundle.windows));
  for (const { seq, kind } of entries) if (!wanted.has(seq)) report('bundle-stranger', { kind }, seq);
};

/**
 * Verifies a bundle without its log: every entry canonical and in its place, all of them under the root, the root signed by
 * the key that the log names, every block whole, nothing of a window left out up to the last entry that counts.
 *
 * What a bundle cannot show: that nothing was entered on the window behind the last entry that counts, and who holds the
 * key. For the first ask for the log; for the second hold the key's fingerprint against paper.
 */
export const verifyBundle = (text: string, hash: Hash, verify: Verify): VerifiedBundle => {
  const kept: Damage[] = [];
  const report: Report = (code, params, entry) => {
    if (kept.length < MOST_DAMAGE)
      kept.push({ ...(entry !== undefined && { entry }), reason: { code, params } });
  };
  const read = readBundle(text);
  if ('fault' in read) {
    report('bundle-unreadable', { why: read.fault });
    return { entries: [], windows: [], damage: kept };
  }
  const { bundle } = read;
  const look: Look = { hash, verify, bundle, report };
  const lines = linesOf(look);
  checkRoot(look);
  checkGenesis(look, lines);
  checkKeys(look, lines);
  checkBlocks(look, lines);
  checkStrangers(look, lines);
  const source = bundleSource(hash, bundle);
  const windows = bundle.windows.map((window) => checkWindow({ hash, source, report }, lines, window));
  return { bundle, entries: lines.map(({ entry }) => entry), windows, damage: kept };
};
