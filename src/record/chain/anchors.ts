import type { LogSource } from '../log-source.ts';
import type { Damage, Hash, Report } from '../types.ts';
import type { KeptCheckpoint } from './checkpoint.ts';
import { fingerprintOf, keyFingerprint } from './fingerprint.ts';
import type { KeyLink } from './keychain.ts';
import type { Seals } from './seal.ts';

/** A checkpoint of the log that was kept somewhere else. */
export interface Anchor {
  /** Where it was found, as people name it. */
  readonly from: string;
  readonly checkpoint: KeptCheckpoint;
  /** The log may end before it: a copy is older than what it was copied from. */
  readonly mayBeOlder: boolean;
}

/** What is known of a log from outside of its file. */
export interface Outside {
  readonly anchors: readonly Anchor[];
  /** As printed, in the form of `readFingerprint`. */
  readonly fingerprint?: string;
  /** Public key of the site that must have signed last, and where it was found. */
  readonly key?: { readonly from: string; readonly key: string };
}

/** What the log is, once all of it was read. */
interface Read {
  readonly log: string;
  readonly entries: number;
  readonly keys: readonly KeyLink[];
  readonly seals: Seals;
}

/** Holds the log against what is known from outside. */
export interface Anchors {
  /** After `size` entries the root is this one. */
  take(size: number, root: () => string): void;
  /** How many entries from the beginning are vouched for, 0 for none; what is told and is no damage goes to `note`. */
  end(read: Read, source: LogSource): number;
}

interface Look {
  readonly hash: Hash;
  readonly report: Report;
  readonly note: (damage: Damage) => void;
  readonly outside: Outside;
  readonly fitting: Set<Anchor>;
}

const takeOne = (look: Look, anchor: Anchor, root: string): void => {
  if (anchor.checkpoint.root === root) look.fitting.add(anchor);
};

/** What is wrong between the log and one anchor; undefined where the log goes on from it. */
const faultOf = (look: Look, anchor: Anchor, read: Read): string | undefined => {
  const { log, key, size } = anchor.checkpoint;
  if (log !== undefined && log !== read.log) return 'anchor-other-log';
  if (look.fitting.has(anchor)) {
    const { chain } = anchor.checkpoint;
    return chain === undefined || read.seals.chainAt(size)?.digest === chain
      ? undefined
      : 'checkpoints-differ';
  }
  const isKnown = key === undefined || read.keys.some((link) => link.key === key);
  if (size <= read.entries) return isKnown ? 'anchor-differs' : 'anchor-other-key';
  return 'anchor-beyond';
};

/** So many entries the anchor vouches for; undefined where it and the log do not belong together. */
const judge = (look: Look, anchor: Anchor, read: Read): number | undefined => {
  const { size, utc = '', key = '' } = anchor.checkpoint;
  const fault = faultOf(look, anchor, read);
  if (fault === undefined) return size;
  const { from } = anchor;
  const params = { from, size, utc, entries: read.entries, key: key && keyFingerprint(look.hash, key) };
  if (fault === 'anchor-beyond' && anchor.mayBeOlder) {
    look.note({ reason: { code: 'copy-is-older', params } });
    return 0;
  }
  look.report(fault, params);
  return undefined;
};

/** Who signed last must be the site; an anchor that does not fit says more than that. */
const checkKey = ({ hash, report, outside }: Look, { keys }: Read): void => {
  const last = keys.at(-1)?.key;
  if (outside.key === undefined || last === undefined || last === outside.key.key) return;
  const { from, key } = outside.key;
  report('key-not-ours', { from, ours: keyFingerprint(hash, key), key: keyFingerprint(hash, last) });
};

/** Where the checkpoint stands that somebody has on paper. */
const sizeOnPaper = (look: Look, printed: string, log: string, source: LogSource): number => {
  for (const { size, root, utc = '' } of source.checkpoints()) {
    if (fingerprintOf(look.hash, { size, root, log }) !== printed) continue;
    look.note({ reason: { code: 'paper-found', params: { fingerprint: printed, size, utc } } });
    return size;
  }
  look.report('paper-unknown', { fingerprint: printed });
  return 0;
};

export const followAnchors = (
  hash: Hash,
  outside: Outside,
  report: Report,
  note: (damage: Damage) => void,
): Anchors => {
  const look: Look = { hash, report, note, outside, fitting: new Set() };
  const bySize = new Map<number, Anchor[]>();
  for (const anchor of outside.anchors)
    bySize.set(anchor.checkpoint.size, [...(bySize.get(anchor.checkpoint.size) ?? []), anchor]);
  return {
    take(size, root) {
      for (const anchor of bySize.get(size) ?? []) takeOne(look, anchor, root());
    },
    end(read, source) {
      const { anchors, fingerprint } = outside;
      const judged = anchors.map((anchor) => judge(look, anchor, read));
      if (!judged.includes(undefined)) checkKey(look, read);
      const vouched = Math.max(0, ...judged.map((size) => size ?? 0));
      if (fingerprint === undefined) return vouched;
      return Math.max(vouched, sizeOnPaper(look, fingerprint, read.log, source));
    },
  };
};
