import type { QuantityKind } from '../measure/index.ts';
import type { Tell } from './fault.ts';
import { PackFile, type PackText, type PURPOSES } from './pack-schema.ts';
import { entriesOf, placeAt, type Tree, valueAt, withValue } from './tree.ts';
import { type Loose, walk } from './walk.ts';

export interface Role {
  readonly name: string;
  /** Names by code; empty for measured roles. */
  readonly states: readonly string[];
  readonly kinds: readonly QuantityKind[];
  readonly purpose: (typeof PURPOSES)[number];
  readonly optional: boolean;
}

/** A rule file as read: what a kind of machine has, and its interlocks by role. */
export interface Pack {
  readonly kind: string;
  readonly tree: Tree;
  readonly text: Loose<PackText>;
  readonly roles: ReadonlyMap<string, Role>;
}

type RoleRead = Loose<PackText['roles'][string]>;

const kindsOf = (text: RoleRead): readonly QuantityKind[] => {
  if (text.quantity === undefined) return [];
  const list = typeof text.quantity === 'string' ? [text.quantity] : text.quantity;
  return list.filter((kind) => kind !== undefined);
};

const roleOf = (name: string, text: RoleRead, tree: Tree, tell: Tell): Role => {
  const place = placeAt(tree, ['roles', name], 'key');
  const states = (text.states ?? []).filter((state) => state !== undefined);
  if ((text.quantity === undefined) === (text.states === undefined))
    tell(place, 'quantity-or-states', { role: name });
  if (text.states !== undefined && text.states.length < 2) {
    tell(placeAt(tree, ['roles', name, 'states']), 'states-too-few', { role: name });
  }
  if (new Set(states).size < states.length) {
    tell(placeAt(tree, ['roles', name, 'states']), 'states-repeat', { role: name });
  }
  return {
    name,
    states,
    kinds: kindsOf(text),
    purpose: text.purpose ?? 'measurement',
    optional: text.optional ?? false,
  };
};

/** Reads a rule file as far as it goes. */
export const packOf = (tree: Tree, tell: Tell): Pack => {
  const text = (walk(PackFile, tree, tree.place, tell) ?? {}) as Loose<PackText>;
  const roles = Object.entries(text.roles ?? {}).map(
    ([name, role]) => [name, roleOf(name, role ?? { states: ['', ' '] }, tree, tell)] as const,
  );
  return { kind: text.kind ?? '', tree, text, roles: new Map(roles) };
};

/** The pack as one machine has it: its `set` values put in place of the pack's. */
export const packWith = (pack: Pack, set: Tree | undefined, tell: Tell): Pack => {
  const entries = entriesOf(set);
  if (entries.length === 0) return pack;
  let tree = pack.tree;
  for (const entry of entries) {
    const path = entry.key.split('.');
    if (valueAt(tree, ['interlocks', path[0] ?? '']) === undefined || path.length < 2) {
      tell(entry.place, 'set-unknown', { path: entry.key, kind: pack.kind });
      continue;
    }
    tree = withValue(tree, ['interlocks', ...path], entry.value, entry.place);
  }
  return packOf(tree, tell);
};
