import { z } from 'zod';
import { canonicalText } from '../canonical.ts';
import type { SignedCheckpoint } from '../chain/checkpoint.ts';
import type { LogSource } from '../log-source.ts';
import type { Entry, Hash } from '../types.ts';
import { toBase64 } from './base64.ts';
import { type Rest, restOf } from './tree.ts';

/** Names the format, which is described in deploy/formats.md; a new one gets a new name. */
export const BUNDLE = 'tripwitness-bundle-1';

/**
 * Windows of a log with everything that it takes to verify them without it. The entries lead to the signed root together
 * with the roots of the subtrees that hold none of them.
 */
export interface Bundle {
  readonly format: typeof BUNDLE;
  readonly log: string;
  readonly windows: readonly string[];
  /** Without the name of the log, which stands above. */
  readonly checkpoint: Omit<SignedCheckpoint, 'log'>;
  /** In the order of `seq`; `text` is the canonical text of which the leaf is the hash. */
  readonly entries: readonly { readonly seq: number; readonly text: string }[];
  readonly rest: readonly Rest[];
  /** Blocks that the entries name, by hash, as base64. */
  readonly blocks: Readonly<Record<string, string>>;
}

const hex = (digits: number) => z.string().regex(new RegExp(`^[0-9a-f]{${digits}}$`));
const count = z.int().min(0);

export const bundleSchema = z.strictObject({
  format: z.literal(BUNDLE),
  log: z.string(),
  windows: z.array(z.string()).min(1),
  checkpoint: z.strictObject({
    key: hex(64),
    root: hex(64),
    size: count.min(1),
    utc: z.string(),
    signature: hex(128),
  }),
  entries: z.array(z.strictObject({ seq: count, text: z.string() })).min(1),
  rest: z.array(z.tuple([count, count.min(1), hex(64)])),
  blocks: z.record(hex(64), z.string()),
});

/** Ids of the people who signed. */
const signersOf = (entries: readonly Entry[]): ReadonlySet<unknown> =>
  new Set(
    entries.flatMap(({ kind, body }) =>
      kind === 'signature' ? [(body['person'] as { readonly id?: unknown } | undefined)?.id] : [],
    ),
  );

/** Numbers of the entries that a bundle of these windows holds, ascending. */
export const bundledEntries = (entries: readonly Entry[], windows: readonly string[]): readonly number[] => {
  const named = new Set(windows);
  const own = entries.filter(({ subject }) => named.has(subject));
  const books = new Set(own.flatMap(({ kind, body }) => (kind === 'window-opened' ? [body['book']] : [])));
  const signers = signersOf(own);
  const wanted = new Set<number>(own.map(({ seq }) => seq));
  for (const { seq, kind, body } of entries) {
    if (kind === 'genesis' || kind === 'key') wanted.add(seq);
    if (kind === 'person' && signers.has(body['id'])) wanted.add(seq);
    // The first one of that hash: the daemon enters the same book at each start.
    if (kind === 'book' && books.delete(body['hash'])) wanted.add(seq);
  }
  return [...wanted].sort((a, b) => a - b);
};

/**
 * The windows of a log as one bundle under `checkpoint`; what was entered behind the checkpoint is not in it. Throws a
 * RangeError for a window that the log does not have.
 */
export const makeBundle = (
  hash: Hash,
  source: LogSource,
  entries: readonly Entry[],
  windows: readonly string[],
  checkpoint: SignedCheckpoint,
): Bundle => {
  const covered = entries.filter(({ seq }) => seq < checkpoint.size);
  for (const id of windows)
    if (!covered.some(({ kind, subject }) => kind === 'window-opened' && subject === id))
      throw new RangeError(`the log has no window ${id} under its newest signed checkpoint`);
  const wanted = bundledEntries(covered, windows);
  const numbers = new Set(wanted);
  const leaves: string[] = [];
  const kept: { seq: number; text: string }[] = [];
  for (const { seq, text, leaf } of source.entries()) {
    if (seq >= checkpoint.size) break;
    leaves.push(leaf);
    if (numbers.has(seq)) kept.push({ seq, text });
  }
  const blocks: Record<string, string> = {};
  for (const { seq, kind, body } of covered) {
    if (kind !== 'trace' || !numbers.has(seq)) continue;
    const name = String(body['block']);
    const bytes = source.block(name);
    if (bytes !== undefined) blocks[name] = toBase64(bytes);
  }
  const { key, log, root, size, utc, signature } = checkpoint;
  return {
    format: BUNDLE,
    log,
    windows,
    checkpoint: { key, root, size, utc, signature },
    entries: kept,
    rest: restOf(hash, leaves, wanted),
    blocks,
  };
};

/** Half of a pair stands alone: canonical text cannot hold it. The engine's own search; a bundle is tens of megabytes. */
const LONE = /\p{Surrogate}/u;

/** A string in canonical text. Throws a RangeError where it has no canonical text. */
const quoted = (text: string): string => {
  if (LONE.test(text)) throw new RangeError('this text has no canonical form: half of a pair stands alone');
  return JSON.stringify(text);
};

/**
 * A bundle as the file that it is: canonical text (RFC 8785). Its many long texts are written as such and not one character
 * at a time. Throws a RangeError where it has no canonical text.
 */
export const bundleText = ({ blocks, entries, ...rest }: Bundle): string => {
  const names = Object.keys(blocks).sort();
  const lines = entries.map(({ seq, text }) => `{"seq":${canonicalText(seq)},"text":${quoted(text)}}`);
  // The names of the fields in their order: blocks, checkpoint, entries, format, …
  const { checkpoint, ...others } = rest;
  return [
    `{"blocks":{${names.map((name) => `${quoted(name)}:${quoted(blocks[name] ?? '')}`).join(',')}}`,
    `"checkpoint":${canonicalText(checkpoint)}`,
    `"entries":[${lines.join(',')}]`,
    canonicalText(others).slice(1),
  ].join(',');
};
