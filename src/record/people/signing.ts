import { canonicalText } from '../canonical.ts';
import { bytesOfHex, leafOfText } from '../chain/tree.ts';
import type { Damage, Entry, EntryKind, Hash } from '../types.ts';
import { type Meaning, signatureSchema } from './people-bodies.ts';

/** What a signature is bound to: the entries of one window up to number `last`, and SHA-256 over their leaf hashes. */
export interface Cover {
  readonly last: number;
  readonly entries: number;
  readonly digest: string;
}

/**
 * Whether a signature still says what it said. `whole`: all of the window, up to other signatures and comments. `since`:
 * more was entered later. `differs`: what stands before it is not what was signed. `unreadable`: no signature as this
 * program writes it.
 */
export type SignatureState = 'whole' | 'since' | 'differs' | 'unreadable';

/** A signature with what has become of it (21 CFR 11.50: name, time, meaning; 11.70: bound to its record). */
export interface Signed {
  readonly entry: number;
  readonly window: string;
  readonly utc: string;
  readonly person: { readonly id: string; readonly name: string };
  readonly role: string;
  readonly meaning: Meaning;
  readonly covers: Cover;
  readonly state: SignatureState;
  /** Of what kinds, and how many, was entered on the window behind what it covers. */
  readonly since: Readonly<Partial<Record<EntryKind, number>>>;
}

/** Follows the entries of a log in their order and holds each signature against what it covers. */
export interface Signing {
  take(entry: Entry, leaf: string): void;
  signed(): readonly Signed[];
}

const LEAF_BYTES = 32;

/** The leaves of one window, one behind the other. */
interface Stack {
  bytes: Uint8Array;
  readonly seqs: number[];
  readonly kinds: EntryKind[];
}

const put = (stack: Stack, { seq, kind }: Entry, leaf: string): void => {
  const at = stack.seqs.length * LEAF_BYTES;
  if (at + LEAF_BYTES > stack.bytes.length) {
    const bigger = new Uint8Array(stack.bytes.length * 2);
    bigger.set(stack.bytes);
    stack.bytes = bigger;
  }
  stack.bytes.set(bytesOfHex(leaf), at);
  stack.seqs.push(seq);
  stack.kinds.push(kind);
};

const newStack = (): Stack => ({ bytes: new Uint8Array(64 * LEAF_BYTES), seqs: [], kinds: [] });

const digestOf = (stack: Stack, entries: number, hash: Hash): string =>
  hash(stack.bytes.slice(0, entries * LEAF_BYTES));

const doesFit = (stack: Stack, covers: Cover, hash: Hash): boolean =>
  covers.entries <= stack.seqs.length &&
  stack.seqs[covers.entries - 1] === covers.last &&
  digestOf(stack, covers.entries, hash) === covers.digest;

const NOBODY = { id: '', name: '' };
const NOTHING: Cover = { last: 0, entries: 0, digest: '' };

interface Held extends Omit<Signed, 'state' | 'since'> {
  readonly fits: boolean | undefined;
  readonly since: Partial<Record<EntryKind, number>>;
}

const heldOf = (entry: Entry, stack: Stack | undefined, hash: Hash): Held => {
  const read = signatureSchema.safeParse(entry.body);
  const base = { entry: entry.seq, window: entry.subject, utc: entry.utc };
  if (!read.success)
    return {
      ...base,
      person: NOBODY,
      role: '',
      meaning: 'performed',
      covers: NOTHING,
      fits: undefined,
      since: {},
    };
  const { person, role, meaning, covers } = read.data;
  const since: Held['since'] = {};
  // What came between the look at the record and the entry of the signature was not signed for.
  stack?.kinds.forEach((kind, index) => {
    if ((stack.seqs[index] ?? 0) > covers.last && !BESIDE.includes(kind))
      since[kind] = (since[kind] ?? 0) + 1;
  });
  return {
    ...base,
    person,
    role,
    meaning,
    covers,
    fits: stack !== undefined && doesFit(stack, covers, hash),
    since,
  };
};

const stateOf = ({ fits, since }: Held): SignatureState => {
  if (fits === undefined) return 'unreadable';
  if (!fits) return 'differs';
  return Object.keys(since).length === 0 ? 'whole' : 'since';
};

/**
 * What may come behind a signature and takes nothing from it: another signature, and a comment, which changes no verdict.
 * A signature does not cover a comment that came later; one that is entered after it does.
 */
const BESIDE: readonly EntryKind[] = ['signature', 'comment'];

/** Only these begin something that can be signed for. */
const BEGINS: readonly EntryKind[] = ['window-opened', 'transcribed'];

export const followSignatures = (hash: Hash): Signing => {
  const stacks = new Map<string, Stack>();
  const held = new Map<string, Held[]>();
  const order: Held[] = [];
  return {
    take(entry, leaf) {
      const { kind, subject } = entry;
      let stack = stacks.get(subject);
      if (kind === 'signature') {
        const one = heldOf(entry, stack, hash);
        held.set(subject, [...(held.get(subject) ?? []), one]);
        order.push(one);
      }
      if (stack === undefined && BEGINS.includes(kind)) {
        stack = newStack();
        stacks.set(subject, stack);
      }
      if (stack === undefined) return;
      put(stack, entry, leaf);
      if (BESIDE.includes(kind)) return;
      for (const { since } of held.get(subject) ?? []) since[kind] = (since[kind] ?? 0) + 1;
    },
    signed: () =>
      order.map((one) => {
        const { fits, ...rest } = one;
        return { ...rest, since: { ...one.since }, state: stateOf(one) };
      }),
  };
};

/** Of an entry that was read: its text is canonical already, and need not be proved readable once more. */
const leafOf = (hash: Hash, entry: Entry): string => leafOfText(hash, canonicalText(entry));

/** The signatures among `entries` (of a whole log or of some windows, in their order), each with its state. */
export const signaturesOf = (entries: Iterable<Entry>, hash: Hash): readonly Signed[] => {
  const all = [...entries];
  // Most windows are read before anybody has signed them: nothing of theirs need be hashed.
  if (all.every(({ kind }) => kind !== 'signature')) return [];
  const signing = followSignatures(hash);
  for (const entry of all) signing.take(entry, leafOf(hash, entry));
  return signing.signed();
};

/** What a signature entered now would cover. `own`: all entries of the window, in their order; at least one. */
export const coverOf = (own: readonly Entry[], hash: Hash): Cover => {
  const stack = newStack();
  for (const entry of own) put(stack, entry, leafOf(hash, entry));
  return { last: own.at(-1)?.seq ?? 0, entries: own.length, digest: digestOf(stack, own.length, hash) };
};

/** What `audit` says of signatures: those that do not match what stands before them. That more came later is no damage. */
export const checkSignatures = (signed: readonly Signed[]): readonly Damage[] =>
  signed.flatMap(({ entry, state, person, meaning, window }): Damage[] => {
    if (state === 'unreadable') return [{ entry, reason: { code: 'signature-unreadable', params: {} } }];
    if (state !== 'differs') return [];
    return [
      { entry, reason: { code: 'signature-differs', params: { person: person.name, meaning, window } } },
    ];
  });
