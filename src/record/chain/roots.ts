import type { Hash, Report } from '../types.ts';
import type { StoredCheckpoint } from './checkpoint.ts';
import type { SignatureFault } from './keychain.ts';
import { appendLeaf, type Frontier, newFrontier, rootOf } from './tree.ts';

/** Follows the entries in their order and holds every stored checkpoint against the root of what stands before it. */
export interface Roots {
  /** The next entry: the leaf of its text, and the leaf that is stored beside it. */
  take(textLeaf: string, storedLeaf: string, utc: string | undefined): void;
  /** Entries up to, not including, `seq` are not there: from here on no root can be made again. */
  skip(seq: number): void;
  end(): void;
  root(): string;
}

const copyOf = ({ size, edges }: Frontier): Frontier => ({ size, edges: [...edges] });

/** A checkpoint that nothing vouches for yet, and why. */
interface Misfit {
  readonly size: number;
  readonly why: 'checkpoint-differs' | SignatureFault;
}

interface Look {
  readonly hash: Hash;
  readonly report: Report;
  readonly faultOf: (checkpoint: StoredCheckpoint) => SignatureFault | undefined;
  /**
   * The tree over the texts, and the one over the stored leaves. They part where one of the two was altered; the next
   * checkpoint tells which, so that one changed entry does not make all later checkpoints differ.
   */
  texts: Frontier;
  leaves: Frontier;
  parted: boolean;
  broken: boolean;
  at: number;
  utc: string | undefined;
  /** Everything before this number stands under a checkpoint that fits. */
  sound: number;
  covered: number;
  /** Checkpoints that do not fit, until a later one does. */
  misfits: Misfit[];
}

const isFitting = (look: Look, root: string): boolean => {
  if (look.broken) return false;
  if (root === rootOf(look.hash, look.texts)) return true;
  if (!look.parted || root !== rootOf(look.hash, look.leaves)) return false;
  look.texts = copyOf(look.leaves);
  return true;
};

const misfitOf = (look: Look, checkpoint: StoredCheckpoint): Misfit['why'] | undefined => {
  const { size, root } = checkpoint;
  if (size !== look.at) return 'checkpoint-differs';
  const fault = look.faultOf(checkpoint);
  // What nobody signed mends nothing.
  if (fault !== undefined)
    return !look.broken && root === rootOf(look.hash, look.texts) ? fault : 'checkpoint-differs';
  return isFitting(look, root) ? undefined : 'checkpoint-differs';
};

const hold = (look: Look, checkpoint: StoredCheckpoint): void => {
  const { size, utc } = checkpoint;
  look.covered = look.at;
  const why = misfitOf(look, checkpoint);
  if (why !== undefined) {
    look.misfits.push({ size, why });
    return;
  }
  // A later root covers all that stands before it: the earlier checkpoints were altered, not the entries.
  for (const misfit of look.misfits)
    look.report('checkpoint-altered', { size: misfit.size }, Math.max(0, misfit.size - 1));
  if (utc !== undefined && look.utc !== undefined && utc !== look.utc)
    look.report('checkpoint-altered', { size }, size - 1);
  look.misfits = [];
  look.leaves = copyOf(look.texts);
  look.parted = false;
  look.sound = size;
};

/** Checkpoints that nothing later vouches for: once for each way in which they do not fit. */
const reportMisfits = ({ misfits, broken, sound, at, report }: Look): void => {
  for (const why of new Set(misfits.map((misfit) => misfit.why))) {
    const own = misfits.filter((misfit) => misfit.why === why);
    const size = own[0]?.size ?? at;
    const to = broken ? at - 1 : size - 1;
    const params = { from: sound, to, size, checkpoints: own.length };
    report(why, params, sound === to ? to : undefined);
  }
};

export const followRoots = (
  hash: Hash,
  stored: Iterable<StoredCheckpoint>,
  report: Report,
  faultOf: (checkpoint: StoredCheckpoint) => SignatureFault | undefined,
): Roots => {
  const checkpoints = stored[Symbol.iterator]();
  let next = checkpoints.next();
  const look: Look = {
    hash,
    report,
    faultOf,
    texts: newFrontier(),
    leaves: newFrontier(),
    parted: false,
    broken: false,
    at: 0,
    utc: undefined,
    sound: 0,
    covered: 0,
    misfits: [],
  };
  const pass = (): void => {
    for (; next.done !== true && next.value.size <= look.at; next = checkpoints.next())
      hold(look, next.value);
  };
  return {
    take(textLeaf, storedLeaf, utc) {
      appendLeaf(hash, look.texts, textLeaf);
      appendLeaf(hash, look.leaves, storedLeaf);
      look.parted ||= textLeaf !== storedLeaf;
      look.utc = utc;
      look.at += 1;
      pass();
    },
    skip(seq) {
      look.broken = true;
      look.at = seq;
      pass();
    },
    end() {
      let size = 0;
      for (; next.done !== true; next = checkpoints.next()) size = next.value.size;
      reportMisfits(look);
      if (size > 0) report('entries-cut-off', { from: look.at, size }, look.at);
      else if (look.covered < look.at)
        report('no-checkpoint', { from: look.covered, to: look.at - 1 }, look.covered);
    },
    root: () => rootOf(hash, look.texts),
  };
};
