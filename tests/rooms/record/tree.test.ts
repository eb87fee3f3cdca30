import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  appendLeaf,
  checkConsistency,
  checkInclusion,
  consistencyProof,
  inclusionProof,
  leafHash,
  leafOfText,
  newFrontier,
  nodeHash,
  rootOf,
  treeHash,
} from '../../../src/record/index.ts';
import { bytesOf, hexOf, sha256, vectors } from './vectors.ts';

interface Roots {
  readonly leaves: readonly string[];
  readonly roots: readonly string[];
  readonly leaf: { readonly text: string; readonly hash: string };
  readonly node: { readonly left: string; readonly right: string; readonly hash: string };
}
interface Inclusion {
  readonly name: string;
  readonly wrong: boolean;
  readonly leafIdx: number | string;
  readonly treeSize: number | string;
  readonly root: string;
  readonly leafHash: string;
  readonly proof: readonly string[];
}
interface Consistency {
  readonly name: string;
  readonly wrong: boolean;
  readonly size1: number;
  readonly size2: number;
  readonly root1: string;
  readonly root2: string;
  readonly proof: readonly string[];
}

const published = vectors<Roots>('merkle/roots.json');
const leaves = published.leaves.map((hex) => leafHash(sha256, bytesOf(hex)));

describe('the tree of RFC 9162, 2.1, against published roots and proofs', () => {
  test.each(published.roots.map((root, size) => ({ size, root })))('root of $size', ({ size, root }) => {
    expect(treeHash(sha256, leaves.slice(0, size))).toBe(root);
    const frontier = newFrontier();
    for (const leaf of leaves.slice(0, size)) appendLeaf(sha256, frontier, leaf);
    expect(rootOf(sha256, frontier)).toBe(root);
  });

  test('leaf and node carry different prefixes', () => {
    expect(leafOfText(sha256, published.leaf.text)).toBe(published.leaf.hash);
    const [left, right] = [published.node.left, published.node.right].map((text) => hexOf(Buffer.from(text)));
    expect(nodeHash(sha256, left!, right!)).toBe(published.node.hash);
  });

  test('proofs that are written out: leaf 5 of 8; 6 to 8; 2 to 5', () => {
    expect(inclusionProof(sha256, leaves, 5)).toEqual([
      'bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b',
      'ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0',
      'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
    ]);
    expect(consistencyProof(sha256, leaves, 6)).toEqual([
      '0ebc5d3437fbe2db158b9f126a1d118e308181031d0a949f8dededebc558ef6a',
      'ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0',
      'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
    ]);
    expect(consistencyProof(sha256, leaves.slice(0, 5), 2)).toEqual([
      '5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e',
      'bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b',
    ]);
  });

  test.each(vectors<{ probes: Inclusion[] }>('merkle/inclusion.json').probes)('inclusion $name', (probe) => {
    const { leafHash: leaf, leafIdx, treeSize, proof, root, wrong } = probe;
    expect(checkInclusion(sha256, leaf, Number(leafIdx), Number(treeSize), proof, root)).toBe(!wrong);
  });

  test.each(vectors<{ probes: Consistency[] }>('merkle/consistency.json').probes)(
    'consistency $name',
    (probe) => {
      const older = { size: probe.size1, root: probe.root1 };
      const newer = { size: probe.size2, root: probe.root2 };
      expect(checkConsistency(sha256, older, newer, probe.proof)).toBe(!probe.wrong);
    },
  );
});

const many = Array.from({ length: 70 }, (_, index) => leafOfText(sha256, `entry ${index}`));

describe('laws of the tree', () => {
  test('every leaf of every size proves itself and nothing else', () => {
    for (let size = 1; size <= many.length; size += 7) {
      const part = many.slice(0, size);
      const root = treeHash(sha256, part);
      part.forEach((leaf, index) => {
        const proof = inclusionProof(sha256, part, index);
        expect(checkInclusion(sha256, leaf, index, size, proof, root)).toBe(true);
        expect(checkInclusion(sha256, many[(index + 1) % many.length]!, index, size, proof, root)).toBe(
          false,
        );
      });
    }
  });

  test('every size leads to every later one; with one leaf changed, left out or swapped it does not', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 69 }), fc.nat(), fc.nat(), (older, grow, where) => {
        const newer = Math.min(many.length, older + 1 + (grow % 20));
        const before = { size: older, root: treeHash(sha256, many.slice(0, older)) };
        const now = many.slice(0, newer);
        const grown = (tree: readonly string[]) => ({
          to: { size: tree.length, root: treeHash(sha256, tree) },
          proof: consistencyProof(sha256, tree, Math.min(older, tree.length)),
        });
        const honest = grown(now);
        expect(checkConsistency(sha256, before, honest.to, honest.proof)).toBe(true);
        const at = where % older;
        const changed = grown(now.with(at, leafOfText(sha256, 'another')));
        expect(checkConsistency(sha256, before, changed.to, changed.proof)).toBe(false);
        const without = grown(now.toSpliced(at, 1));
        expect(checkConsistency(sha256, before, without.to, without.proof)).toBe(false);
        if (at === 0) return;
        const swapped = grown(now.with(at, now[at - 1]!).with(at - 1, now[at]!));
        expect(checkConsistency(sha256, before, swapped.to, swapped.proof)).toBe(false);
      }),
    );
  });

  test('the frontier stays as small as the size has binary ones', () => {
    const frontier = newFrontier();
    for (let size = 1; size <= 1_000; size += 1) {
      appendLeaf(sha256, frontier, many[size % 70]!);
      expect(frontier.edges.length).toBe([...size.toString(2)].filter((digit) => digit === '1').length);
    }
  });

  test('a size that never was has no proof', () => {
    expect(() => consistencyProof(sha256, many, 71)).toThrow(RangeError);
    expect(checkInclusion(sha256, many[0]!, -1, 70, [], treeHash(sha256, many))).toBe(false);
  });
});
