import { z } from 'zod';
import { canonicalText } from '../canonical.ts';
import type { Checkpoint } from '../types.ts';
import { utf8 } from './tree.ts';

/** Ed25519 (RFC 8032): does `signature` (128 hex digits) of `message` belong to the raw public `key` (64 hex digits)? */
export type Verify = (key: string, message: Uint8Array, signature: string) => boolean;

/** A checkpoint as stored; `utc` is that of the last entry under it. Logs from before there were keys have neither key nor signature. */
export type StoredCheckpoint = Checkpoint & {
  readonly utc?: string;
  readonly key?: string | null;
  readonly signature?: string | null;
};

/** What a checkpoint states: under this key, the first `size` entries of this log have this root. */
export interface Statement extends Checkpoint {
  /** Raw public key, 64 hex digits. */
  readonly key: string;
  /** `body.log` of the genesis. */
  readonly log: string;
  /** RFC 3339, of the last entry under it. */
  readonly utc: string;
}

/** A checkpoint that proves itself, wherever it is kept. */
export interface SignedCheckpoint extends Statement {
  readonly signature: string;
}

/** The text whose UTF-8 bytes are signed. */
export const statementText = ({ key, log, root, size, utc }: Statement): string =>
  canonicalText({ key, log, root, size, utc, version: 1 });

/** What the old key signs when `key` takes over from it. */
export const takeoverText = (log: string, key: string, takesOverFrom: string): string =>
  canonicalText({ key, log, takesOverFrom });

export const isSigned = (verify: Verify, checkpoint: SignedCheckpoint): boolean =>
  verify(checkpoint.key, utf8(statementText(checkpoint)), checkpoint.signature);

const told = z.looseObject({
  log: z.string().optional(),
  size: z.int().min(1),
  root: z.string().regex(/^[0-9a-f]{64}$/),
  key: z.string().optional(),
  utc: z.string().optional(),
  signature: z.string().optional(),
  chain: z.string().optional(),
});

/** A checkpoint that was kept or sent away; a report from before there were keys has it without a signature. */
export type KeptCheckpoint = Checkpoint &
  Partial<Omit<SignedCheckpoint, keyof Checkpoint>> & {
    /** Digest over all checkpoints up to this one, where it was kept too. */
    readonly chain?: string;
  };

/** The checkpoint in a parsed JSON document: the document itself, or its `checkpoint` beside its `log`. */
export const checkpointIn = (document: unknown): KeptCheckpoint | undefined => {
  const outer = z.looseObject({ log: z.string().optional(), checkpoint: z.unknown() }).safeParse(document);
  const inner = told.safeParse(outer.data?.checkpoint ?? document);
  if (!inner.success) return undefined;
  const { size, root, key, utc, signature, chain, log = outer.data?.log } = inner.data;
  return {
    size,
    root,
    ...(log !== undefined && { log }),
    ...(key !== undefined && { key }),
    ...(utc !== undefined && { utc }),
    ...(signature !== undefined && { signature }),
    ...(chain !== undefined && { chain }),
  };
};

/** Whole, and its signature fits. */
export const isWhole = (verify: Verify, kept: KeptCheckpoint): kept is SignedCheckpoint & KeptCheckpoint => {
  const { key, log, utc, signature } = kept;
  if (key === undefined || log === undefined || utc === undefined || signature === undefined) return false;
  return isSigned(verify, { ...kept, key, log, utc, signature });
};
