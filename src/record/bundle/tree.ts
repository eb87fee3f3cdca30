import { largestPowerBelow, nodeHash, treeHash } from '../chain/tree.ts';
import type { Hash } from '../types.ts';

/** The root of a subtree that holds none of the entries that are wanted: number of its first leaf, leaves, hash. */
export type Rest = readonly [first: number, size: number, hash: string];

/** Position of the first of `sorted` that is not below `least`. */
const lowerBound = (sorted: readonly number[], least: number): number => {
  let [from, to] = [0, sorted.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if ((sorted[middle] ?? 0) < least) from = middle + 1;
    else to = middle;
  }
  return from;
};

const someIn = (sorted: readonly number[], first: number, size: number): boolean =>
  (sorted[lowerBound(sorted, first)] ?? Number.POSITIVE_INFINITY) < first + size;

/** What is needed beside the leaves of `wanted` (ascending) to make the root of all `leaves`, left to right. */
export const restOf = (hash: Hash, leaves: readonly string[], wanted: readonly number[]): Rest[] => {
  const rest: Rest[] = [];
  const walk = (first: number, size: number): void => {
    if (!someIn(wanted, first, size)) {
      rest.push([first, size, treeHash(hash, leaves.slice(first, first + size))]);
      return;
    }
    if (size === 1) return;
    const left = largestPowerBelow(size);
    walk(first, left);
    walk(first + left, size - left);
  };
  if (leaves.length > 0) walk(0, leaves.length);
  return rest;
};

export type Rebuilt =
  | { readonly root: string }
  /** A leaf of which nothing is known, or a subtree that the walk did not come by. */
  | { readonly gap: number }
  | { readonly spare: number };

/**
 * The root of a tree of `size` leaves from some of its leaves and the roots of what is left out. Every subtree has to be
 * asked for, once: one that is not shows that leaves and subtrees lie over each other.
 */
export const rootFrom = (
  hash: Hash,
  size: number,
  leaves: ReadonlyMap<number, string>,
  rest: readonly Rest[],
): Rebuilt => {
  const numbers = [...leaves.keys()].sort((a, b) => a - b);
  const known = new Map(rest.map(([first, count, node]) => [`${first}+${count}`, node]));
  const used = new Set<string>();
  let gap: number | undefined;
  const walk = (first: number, count: number): string => {
    if (gap !== undefined) return '';
    if (!someIn(numbers, first, count)) {
      const name = `${first}+${count}`;
      const node = known.get(name);
      if (node === undefined) gap = first;
      used.add(name);
      return node ?? '';
    }
    if (count === 1) return leaves.get(first) ?? '';
    const left = largestPowerBelow(count);
    const [one, other] = [walk(first, left), walk(first + left, count - left)];
    return gap === undefined ? nodeHash(hash, one, other) : '';
  };
  const root = size > 0 ? walk(0, size) : hash(new Uint8Array(0));
  if (gap !== undefined) return { gap };
  const spare = rest.find(([first, count]) => !used.has(`${first}+${count}`));
  if (spare !== undefined || known.size < rest.length) return { spare: spare?.[0] ?? 0 };
  return { root };
};
