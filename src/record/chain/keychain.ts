import { keySchema } from '../bodies.ts';
import type { Entry, Report } from '../types.ts';
import { isSigned, type StoredCheckpoint, takeoverText, type Verify } from './checkpoint.ts';
import { utf8 } from './tree.ts';

/** A key of the log, from the entry that brought it in. */
export interface KeyLink {
  readonly entry: number;
  /** Raw public key, 64 hex digits. */
  readonly key: string;
  /**
   * `genesis`: the log began with it. `proved`: the key before it signed for it. `first`: nothing before it was signed.
   * `unproved`: it took over from another that did not sign for it.
   */
  readonly how: 'genesis' | 'proved' | 'first' | 'unproved';
}

/** Why a checkpoint is not signed as it should be. */
export type SignatureFault = 'signature-missing' | 'signature-other-key' | 'signature-wrong';

/** Follows the entries and knows which key must have signed the next checkpoint. */
export interface Keychain {
  /** `sound`: its text is the one that its leaf was made from. What is not sound says nothing about keys. */
  take(entry: Entry, sound: boolean): void;
  faultOf(checkpoint: StoredCheckpoint): SignatureFault | undefined;
  links(): readonly KeyLink[];
  log(): string;
}

interface Look {
  readonly verify: Verify;
  readonly report: Report;
  readonly links: KeyLink[];
  /** Checkpoints up to this size are sealed: the signature over the seal stands for theirs. */
  readonly sealed: number;
  log: string;
  /** An entry that names the log or a key was altered: whatever is signed is taken at its word, the damage is told already. */
  doubtful: boolean;
}

const HEX = /^[0-9a-f]{64}$/;
const inForce = (look: Look): string | undefined => look.links.at(-1)?.key;

const takeGenesis = (look: Look, { seq, body }: Entry): void => {
  const { log, key } = body;
  if (typeof log === 'string') look.log = log;
  if (key === undefined) return;
  if (typeof key === 'string' && HEX.test(key)) look.links.push({ entry: seq, key, how: 'genesis' });
  else look.report('key-unreadable', {}, seq);
};

const takeKey = (look: Look, entry: Entry): void => {
  const parsed = keySchema.safeParse(entry.body);
  if (!parsed.success) {
    look.report('key-unreadable', {}, entry.seq);
    return;
  }
  const { key, by, proof } = parsed.data;
  const before = inForce(look);
  const add = (how: KeyLink['how']): void => void look.links.push({ entry: entry.seq, key, how });
  if (by === undefined && proof === undefined) {
    add(before === undefined ? 'first' : 'unproved');
    return;
  }
  const isProved =
    by !== undefined &&
    proof !== undefined &&
    by === before &&
    look.verify(by, utf8(takeoverText(look.log, key, by)), proof);
  if (!isProved) look.report('key-proof-wrong', {}, entry.seq);
  add(isProved ? 'proved' : 'unproved');
};

const faultOf = (look: Look, checkpoint: StoredCheckpoint): SignatureFault | undefined => {
  const wanted = inForce(look);
  const { key, signature, utc } = checkpoint;
  if (look.doubtful) return undefined;
  if (typeof key !== 'string' || typeof signature !== 'string') {
    if (wanted !== undefined) return 'signature-missing';
    return (key ?? signature ?? null) === null ? undefined : 'signature-wrong';
  }
  if (key !== wanted) return 'signature-other-key';
  const { size, root } = checkpoint;
  if (size <= look.sealed) return undefined;
  const fits = isSigned(look.verify, { key, log: look.log, size, root, utc: utc ?? '', signature });
  return fits ? undefined : 'signature-wrong';
};

export const followKeys = (verify: Verify, report: Report, sealed = 0): Keychain => {
  const look: Look = { verify, report, sealed, links: [], log: '', doubtful: false };
  return {
    take(entry, sound) {
      const isGenesis = entry.seq === 0 && entry.kind === 'genesis';
      if (!isGenesis && entry.kind !== 'key') return;
      look.doubtful ||= !sound;
      if (isGenesis) takeGenesis(look, entry);
      else takeKey(look, entry);
    },
    faultOf: (checkpoint) => faultOf(look, checkpoint),
    links: () => look.links,
    log: () => look.log,
  };
};
