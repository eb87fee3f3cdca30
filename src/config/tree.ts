import type { Place } from './fault.ts';

export type Scalar = string | number | boolean | null;

/** What a file says, with the place of every word. YAML and CSV both become this. */
export type Tree =
  | {
      readonly kind: 'scalar';
      readonly place: Place;
      readonly value: Scalar;
      /** As written. */
      readonly text: string;
      /** From CSV, where a number and a text look alike: the reader decides by what it wants. */
      readonly loose: boolean;
      /** What is wrong with it has been told already. */
      readonly told?: true;
    }
  | { readonly kind: 'list'; readonly place: Place; readonly items: readonly Tree[] }
  | MapTree;

export interface MapTree {
  readonly kind: 'map';
  readonly place: Place;
  readonly entries: readonly Entry[];
}

export interface Entry {
  readonly key: string;
  readonly place: Place;
  readonly value: Tree;
}

export type Path = readonly (string | number)[];

const step = (tree: Tree, key: string | number): { key: Place; value: Tree } | undefined => {
  if (tree.kind === 'list' && typeof key === 'number') {
    const item = tree.items[key];
    return item === undefined ? undefined : { key: item.place, value: item };
  }
  if (tree.kind !== 'map') return undefined;
  const entry = tree.entries.find((candidate) => candidate.key === key);
  return entry === undefined ? undefined : { key: entry.place, value: entry.value };
};

export const valueAt = (tree: Tree, path: Path): Tree | undefined => {
  let here: Tree | undefined = tree;
  for (const key of path) here = here === undefined ? undefined : step(here, key)?.value;
  return here;
};

/** Place of the last word of the path that is there: of its value, or of the key that names it. */
export const placeAt = (tree: Tree, path: Path, of: 'key' | 'value' = 'value'): Place => {
  let here = tree;
  let key = tree.place;
  for (const word of path) {
    const next = step(here, word);
    if (next === undefined) return key;
    here = next.value;
    key = next.key;
  }
  return of === 'value' && here.kind === 'scalar' ? here.place : key;
};

export const entriesOf = (tree: Tree | undefined): readonly Entry[] =>
  tree?.kind === 'map' ? tree.entries : [];

/** The tree with one value put in; maps on the way are made where they are missing. */
export const withValue = (tree: Tree, path: readonly string[], value: Tree, key: Place): Tree => {
  const [first, ...rest] = path;
  if (first === undefined) return value;
  const entries = entriesOf(tree);
  const old = entries.find((entry) => entry.key === first);
  const empty: MapTree = { kind: 'map', place: key, entries: [] };
  const placed: Entry = {
    key: first,
    place: old?.place ?? key,
    value: withValue(old?.value ?? empty, rest, value, key),
  };
  const others = entries.map((candidate) => (candidate.key === first ? placed : candidate));
  return { kind: 'map', place: tree.place, entries: old === undefined ? [...entries, placed] : others };
};
