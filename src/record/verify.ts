import { parseEntry } from './canonical.ts';
import { appendLeaf, leafOfText, newFrontier, rootOf } from './tree.ts';
import type { Checkpoint, Damage, Entry, Hash } from './types.ts';

/** Where a log is read from; nothing here knows a file. */
export interface LogSource {
  /** In the order of `seq`. */
  entries(): Iterable<{ readonly seq: number; readonly text: string; readonly leaf: string }>;
  /** In the order of `size`. */
  checkpoints(): Iterable<Checkpoint>;
  block(hash: string): Uint8Array | undefined;
}

export interface Verified {
  readonly entries: number;
  readonly root: string;
  readonly damage: readonly Damage[];
  /** Windows that were opened and neither closed nor entered as interrupted. */
  readonly open: readonly string[];
}

interface Look {
  readonly hash: Hash;
  readonly source: LogSource;
  readonly damage: Damage[];
  readonly open: Set<string>;
}

const MOST_DAMAGE = 200;

const report = (look: Look, code: string, params: Damage['reason']['params'], entry?: number): void => {
  if (look.damage.length >= MOST_DAMAGE) return;
  look.damage.push({ ...(entry !== undefined && { entry }), reason: { code, params } });
};

const checkBlock = (look: Look, entry: Entry): void => {
  if (entry.kind !== 'trace') return;
  const wanted = entry.body['block'];
  if (typeof wanted !== 'string') {
    report(look, 'trace-without-block', { kind: entry.kind }, entry.seq);
    return;
  }
  const bytes = look.source.block(wanted);
  if (bytes === undefined) report(look, 'block-missing', { block: wanted }, entry.seq);
  else if (look.hash(bytes) !== wanted) report(look, 'block-altered', { block: wanted }, entry.seq);
};

const followWindow = (look: Look, entry: Entry): void => {
  if (entry.kind === 'window-opened') look.open.add(entry.subject);
  if (entry.kind === 'window-closed' || entry.kind === 'window-interrupted') look.open.delete(entry.subject);
};

const checkEntry = (look: Look, seq: number, text: string): void => {
  const parsed = parseEntry(text);
  if ('fault' in parsed) {
    report(look, 'entry-unreadable', { why: parsed.fault }, seq);
    return;
  }
  const { entry } = parsed;
  if (entry.seq !== seq) report(look, 'entry-misplaced', { says: entry.seq }, seq);
  if ((seq === 0) !== (entry.kind === 'genesis'))
    report(look, 'genesis-misplaced', { kind: entry.kind }, seq);
  checkBlock(look, entry);
  followWindow(look, entry);
};

/**
 * Reads the whole log: every entry canonical and in its place, its stored leaf the hash of its text, every stored
 * checkpoint the root of what stands before it, every trace block whole. Names each entry that is not what it was.
 */
export const verifyLog = (source: LogSource, hash: Hash): Verified => {
  const look: Look = { hash, source, damage: [], open: new Set() };
  const frontier = newFrontier();
  const checkpoints = [...source.checkpoints()];
  let sound = 0;
  let covered = 0;
  let next = 0;
  const passCheckpoints = (): void => {
    for (; checkpoints[next]?.size === frontier.size; next += 1) {
      const stored = checkpoints[next]?.root;
      covered = frontier.size;
      if (stored === rootOf(hash, frontier)) sound = frontier.size;
      else report(look, 'checkpoint-differs', { from: sound, to: frontier.size - 1, size: frontier.size });
    }
  };
  for (const { seq, text, leaf } of source.entries()) {
    for (; frontier.size < seq; appendLeaf(hash, frontier, hash(new Uint8Array(0)))) {
      report(look, 'entry-missing', {}, frontier.size);
      passCheckpoints();
    }
    const real = leafOfText(hash, text);
    if (real !== leaf) report(look, 'entry-altered', {}, seq);
    checkEntry(look, seq, text);
    appendLeaf(hash, frontier, real);
    passCheckpoints();
  }
  if (frontier.size === 0) report(look, 'log-empty', {});
  if (next < checkpoints.length) {
    const size = checkpoints.at(-1)?.size ?? 0;
    report(look, 'entries-cut-off', { from: frontier.size, size }, frontier.size);
  }
  if (covered < frontier.size)
    report(look, 'no-checkpoint', { from: covered, to: frontier.size - 1 }, covered);
  return { entries: frontier.size, root: rootOf(hash, frontier), damage: look.damage, open: [...look.open] };
};
