import type { Checkpoint, Hash } from '../types.ts';

/**
 * Merkle tree of RFC 9162, 2.1: leaf = H(0x00 ‖ data), node = H(0x01 ‖ left ‖ right). Hashes travel as lower-case hex.
 */
const LEAF = 0x00;
const NODE = 0x01;
const SHA256 = /^[0-9a-f]{64}$/;

/** Value of a lower-case hex digit by its character code. */
const digit = (code: number): number => (code < 0x3a ? code - 0x30 : code - 0x57);

/** Bytes of lower-case hex. */
export const bytesOfHex = (hex: string): Uint8Array => {
  const bytes = new Uint8Array(hex.length >> 1);
  for (let index = 0; index < bytes.length; index += 1)
    bytes[index] = (digit(hex.charCodeAt(index * 2)) << 4) | digit(hex.charCodeAt(index * 2 + 1));
  return bytes;
};

/** Writes one character beyond ASCII at `at`; returns where the next one goes. */
const putCharacter = (bytes: Uint8Array, at: number, code: number): number => {
  const tail = (shift: number): number => 0x80 | ((code >> shift) & 0x3f);
  if (code < 0x800) {
    bytes.set([0xc0 | (code >> 6), tail(0)], at);
    return at + 2;
  }
  if (code < 0x1_0000) {
    bytes.set([0xe0 | (code >> 12), tail(6), tail(0)], at);
    return at + 3;
  }
  bytes.set([0xf0 | (code >> 18), tail(12), tail(6), tail(0)], at);
  return at + 4;
};

/** UTF-8 without TextEncoder, which the pure rooms do not have. For text without lone surrogates. */
export const utf8 = (text: string): Uint8Array => {
  // No code unit becomes more than three bytes.
  const bytes = new Uint8Array(text.length * 3);
  let at = 0;
  for (let index = 0; index < text.length; index += 1) {
    const code = text.charCodeAt(index);
    if (code < 0x80) {
      bytes[at] = code;
      at += 1;
    } else {
      const point = text.codePointAt(index) ?? code;
      at = putCharacter(bytes, at, point);
      if (point > 0xffff) index += 1;
    }
  }
  return bytes.slice(0, at);
};

const prefixed = (prefix: number, ...parts: readonly Uint8Array[]): Uint8Array => {
  const all = new Uint8Array(1 + parts.reduce((sum, part) => sum + part.length, 0));
  all[0] = prefix;
  let at = 1;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
};

export const leafHash = (hash: Hash, data: Uint8Array): string => hash(prefixed(LEAF, data));
export const leafOfText = (hash: Hash, text: string): string => leafHash(hash, utf8(text));
export const nodeHash = (hash: Hash, left: string, right: string): string =>
  hash(prefixed(NODE, bytesOfHex(left), bytesOfHex(right)));

/** Roots of the complete subtrees on the right edge, largest first: all that is needed to append and to give a root. */
export interface Frontier {
  size: number;
  readonly edges: { hash: string; size: number }[];
}

export const newFrontier = (): Frontier => ({ size: 0, edges: [] });

export const appendLeaf = (hash: Hash, frontier: Frontier, leaf: string): void => {
  frontier.edges.push({ hash: leaf, size: 1 });
  frontier.size += 1;
  for (;;) {
    const right = frontier.edges.at(-1);
    const left = frontier.edges.at(-2);
    if (left === undefined || right === undefined || left.size !== right.size) return;
    frontier.edges.splice(-2, 2, {
      hash: nodeHash(hash, left.hash, right.hash),
      size: left.size + right.size,
    });
  }
};

/** Root over all leaves so far; of an empty tree it is H(''). */
export const rootOf = (hash: Hash, frontier: Frontier): string => {
  const [last, ...rest] = [...frontier.edges].reverse();
  if (last === undefined) return hash(new Uint8Array(0));
  return rest.reduce((right, edge) => nodeHash(hash, edge.hash, right), last.hash);
};

/** The greatest power of two that is smaller than `size`. */
export const largestPowerBelow = (size: number): number => {
  let power = 1;
  while (power * 2 < size) power *= 2;
  return power;
};

/** MTH(leaves), 2.1.1. */
export const treeHash = (hash: Hash, leaves: readonly string[]): string => {
  const frontier = newFrontier();
  for (const leaf of leaves) appendLeaf(hash, frontier, leaf);
  return rootOf(hash, frontier);
};

/** PATH(index, leaves), 2.1.3.1. */
export const inclusionProof = (hash: Hash, leaves: readonly string[], index: number): string[] => {
  if (leaves.length <= 1) return [];
  const split = largestPowerBelow(leaves.length);
  return index < split
    ? [...inclusionProof(hash, leaves.slice(0, split), index), treeHash(hash, leaves.slice(split))]
    : [...inclusionProof(hash, leaves.slice(split), index - split), treeHash(hash, leaves.slice(0, split))];
};

/** 2.1.3.2: does the proof lead from the leaf at `index` to the root of a tree of `size`? */
export const checkInclusion = (
  hash: Hash,
  leaf: string,
  index: number,
  size: number,
  proof: readonly string[],
  root: string,
): boolean => {
  if (!Number.isSafeInteger(index) || index < 0 || index >= size || !SHA256.test(leaf)) return false;
  let [node, last, current] = [index, size - 1, leaf];
  for (const step of proof) {
    if (last === 0) return false;
    if (node % 2 === 1 || node === last) {
      current = nodeHash(hash, step, current);
      while (node % 2 === 0 && node !== 0) [node, last] = [node / 2, Math.floor(last / 2)];
    } else current = nodeHash(hash, current, step);
    [node, last] = [Math.floor(node / 2), Math.floor(last / 2)];
  }
  return last === 0 && current === root;
};

/** PROOF(size, leaves), 2.1.4.1. Throws a RangeError where the tree never had that size. */
export const consistencyProof = (hash: Hash, leaves: readonly string[], size: number): string[] => {
  if (!Number.isSafeInteger(size) || size < 0 || size > leaves.length)
    throw new RangeError(`no tree of ${leaves.length} leaves once had ${size}`);
  const sub = (part: readonly string[], known: number, whole: boolean): string[] => {
    if (known === part.length) return whole ? [] : [treeHash(hash, part)];
    const split = largestPowerBelow(part.length);
    return known <= split
      ? [...sub(part.slice(0, split), known, whole), treeHash(hash, part.slice(split))]
      : [...sub(part.slice(split), known - split, false), treeHash(hash, part.slice(0, split))];
  };
  return size === 0 || size === leaves.length ? [] : sub(leaves, size, true);
};

/** Two roots that are made in step from one proof: of the tree as it was, and as it is. */
const climb = (
  hash: Hash,
  start: { readonly node: number; readonly last: number },
  proof: readonly string[],
): { readonly older: string; readonly newer: string } | undefined => {
  let { node, last } = start;
  while (node % 2 === 1) [node, last] = [Math.floor(node / 2), Math.floor(last / 2)];
  let [older, newer] = [proof[0] ?? '', proof[0] ?? ''];
  for (const step of proof.slice(1)) {
    if (last === 0) return undefined;
    if (node % 2 === 1 || node === last) {
      older = nodeHash(hash, step, older);
      newer = nodeHash(hash, step, newer);
      while (node % 2 === 0 && node !== 0) [node, last] = [node / 2, Math.floor(last / 2)];
    } else newer = nodeHash(hash, newer, step);
    [node, last] = [Math.floor(node / 2), Math.floor(last / 2)];
  }
  return last === 0 ? { older, newer } : undefined;
};

/** 2.1.4.2: does the proof show that the newer tree begins with all of the older one? */
export const checkConsistency = (
  hash: Hash,
  older: Checkpoint,
  newer: Checkpoint,
  proof: readonly string[],
): boolean => {
  // Every tree begins with the empty one: that is no evidence, and the clause starts at 1.
  if (older.size < 1 || older.size > newer.size) return false;
  if (older.size === newer.size) return proof.length === 0 && older.root === newer.root;
  if (proof.length === 0) return false;
  const isComplete = largestPowerBelow(older.size * 2) === older.size;
  const roots = climb(
    hash,
    { node: older.size - 1, last: newer.size - 1 },
    isComplete ? [older.root, ...proof] : proof,
  );
  return roots?.older === older.root && roots.newer === newer.root;
};
