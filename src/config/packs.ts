import type { QuantityKind } from '../measure/index.ts';
import { derivationOf } from './derivation.ts';
import type { Tell } from './fault.ts';
import { PackFile, type PackText } from './pack-schema.ts';
import { RELATIONS } from './relations.ts';
import type { Role } from './role.ts';
import { resolveRoles } from './role-derived.ts';
import { nearest } from './suggest.ts';
import { entriesOf, placeAt, type Tree, valueAt, withValue } from './tree.ts';
import { type Loose, walk } from './walk.ts';

export type { Role } from './role.ts';

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

/** Words that a level or an effect already means something by. */
const TAKEN: readonly string[] = ['normal', 'nameplate', 'absolute', ...RELATIONS];

const checkRole = (name: string, text: RoleRead, derived: boolean, tree: Tree, tell: Tell): void => {
  const key = placeAt(tree, ['roles', name], 'key');
  const states = (text.states ?? []).filter((state) => state !== undefined);
  const said = [text.quantity !== undefined, text.states !== undefined, derived].filter((one) => one).length;
  if (TAKEN.includes(name)) tell(key, 'role-name-taken', { role: name, known: TAKEN });
  if (said !== 1) tell(key, 'quantity-or-states', { role: name });
  if (!derived && text.purpose === undefined && !Object.hasOwn(text, 'purpose'))
    tell(key, 'missing-key', { key: 'purpose' });
  if (text.states !== undefined && text.states.length < 2)
    tell(placeAt(tree, ['roles', name, 'states']), 'states-too-few', { role: name });
  if (new Set(states).size < states.length)
    tell(placeAt(tree, ['roles', name, 'states']), 'states-repeat', { role: name });
  if (text.purpose === 'raw' && !Object.hasOwn(text, 'mirrors')) tell(key, 'missing-key', { key: 'mirrors' });
  if (text.purpose !== 'raw' && Object.hasOwn(text, 'mirrors'))
    tell(placeAt(tree, ['roles', name, 'mirrors'], 'key'), 'only-with', {
      key: 'mirrors',
      with: '"purpose: raw"',
    });
};

const roleOf = (name: string, text: RoleRead, tree: Tree, tell: Tell): Role => {
  const at = {
    key: placeAt(tree, ['roles', name], 'key'),
    of: (field: string) => placeAt(tree, ['roles', name, field]),
    keyOf: (field: string) => placeAt(tree, ['roles', name, field], 'key'),
  };
  const derivation = derivationOf(text, at, tell);
  checkRole(name, text, derivation !== undefined, tree, tell);
  return {
    name,
    states: (text.states ?? []).filter((state) => state !== undefined),
    kinds: kindsOf(text),
    purpose: text.purpose ?? 'measurement',
    optional: text.optional ?? derivation !== undefined,
    difference: false,
    ...(derivation === undefined ? {} : { derivation }),
    ...(text.mirrors === undefined ? {} : { mirrors: text.mirrors }),
  };
};

const alike = (one: Role, other: Role): boolean =>
  one.states.length > 0
    ? one.states.join() === other.states.join()
    : one.kinds.some((kind) => other.kinds.includes(kind));

/** What a raw input mirrors must be there and show the same. */
const checkMirrors = (role: Role, pack: Omit<Pack, 'text'>, tell: Tell): void => {
  if (role.mirrors === undefined) return;
  const place = placeAt(pack.tree, ['roles', role.name, 'mirrors']);
  const shown = pack.roles.get(role.mirrors);
  const known = [...pack.roles.keys()].filter((name) => name !== role.name);
  if (shown === undefined || shown === role)
    tell(place, 'unknown-role', { role: role.mirrors, kind: pack.kind, known }, nearest(role.mirrors, known));
  else if (!alike(role, shown)) tell(place, 'mirror-differs', { role: role.name, other: shown.name });
};

/** Reads a rule file as far as it goes. */
export const packOf = (tree: Tree, tell: Tell): Pack => {
  const text = (walk(PackFile, tree, tree.place, tell) ?? {}) as Loose<PackText>;
  const kind = text.kind ?? '';
  const read = new Map(
    Object.entries(text.roles ?? {}).map(
      ([name, role]) => [name, roleOf(name, role ?? UNREAD, tree, tell)] as const,
    ),
  );
  const roles = resolveRoles(read, kind, tree, tell);
  for (const role of roles.values()) checkMirrors(role, { kind, tree, roles }, tell);
  return { kind, tree, text, roles };
};

/** Stands for a role that could not be read: what is wrong with it has been told. */
const UNREAD: RoleRead = { states: ['', ' '], purpose: 'measurement' };

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
