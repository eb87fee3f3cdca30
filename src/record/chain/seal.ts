import { parseEntry } from '../canonical.ts';
import type { LogSource } from '../log-source.ts';
import type { Hash, Report } from '../types.ts';
import type { StoredCheckpoint } from './checkpoint.ts';
import { utf8 } from './tree.ts';

/**
 * The tree covers entries, not the checkpoints beside them. A chain of hashes over the checkpoints, entered now and then
 * (`sealed`), lets none of them be taken away or changed, and spares their signatures: what is sealed is vouched for by the
 * signature over the seal.
 */
export interface Chain {
  readonly checkpoints: number;
  /** Of the newest of them. */
  readonly size: number;
  /** SHA-256, 64 hex digits; '' before the first. */
  readonly digest: string;
}

export const NO_CHAIN: Chain = { checkpoints: 0, size: 0, digest: '' };

export const chained = (hash: Hash, chain: Chain, checkpoint: StoredCheckpoint): Chain => {
  const { size, root, utc = '', key, signature } = checkpoint;
  const line = `${chain.digest} ${size} ${root} ${utc} ${key ?? '-'} ${signature ?? '-'}`;
  return { checkpoints: chain.checkpoints + 1, size, digest: hash(utf8(line)) };
};

const MARK = '"kind":"sealed"';

/** The seal in the text of an entry. Cheap for all that are none. */
export const sealIn = (text: string): Chain | undefined => {
  if (!text.includes(MARK)) return undefined;
  const parsed = parseEntry(text);
  if (!('entry' in parsed) || parsed.entry.kind !== 'sealed') return undefined;
  const { checkpoints, size, digest } = parsed.entry.body;
  if (typeof checkpoints !== 'number' || typeof size !== 'number' || typeof digest !== 'string')
    return undefined;
  return { checkpoints, size, digest };
};

/** What the seals of a log say of its checkpoints. */
export interface Seals {
  /** Checkpoints up to this size are what was sealed; 0: none. */
  readonly upTo: number;
  /** Links of the chain at the sizes that were asked for. */
  chainAt(size: number): Chain | undefined;
}

export const lookAtSeals = (
  hash: Hash,
  source: LogSource,
  sizes: ReadonlySet<number>,
  report: Report,
): Seals => {
  const seals: { readonly seq: number; readonly seal: Chain }[] = [];
  for (const { seq, text } of source.holding?.(MARK) ?? source.entries()) {
    const seal = sealIn(text);
    if (seal !== undefined) seals.push({ seq, seal });
  }
  const wanted = new Set([...sizes, ...seals.map(({ seal }) => seal.size)]);
  const links = new Map<number, Chain>();
  let chain = NO_CHAIN;
  for (const checkpoint of source.checkpoints()) {
    chain = chained(hash, chain, checkpoint);
    if (wanted.has(checkpoint.size)) links.set(checkpoint.size, chain);
  }
  let upTo = 0;
  for (const { seq, seal } of seals) {
    const found = links.get(seal.size);
    if (found?.digest === seal.digest && found.checkpoints === seal.checkpoints)
      upTo = Math.max(upTo, seal.size);
    else {
      const before = found?.checkpoints ?? chain.checkpoints;
      report('seal-broken', { checkpoints: seal.checkpoints, size: seal.size, found: before }, seq);
    }
  }
  return { upTo, chainAt: (size) => links.get(size) };
};
