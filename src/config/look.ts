import type { Place, Tell } from './fault.ts';
import type { InterlockText } from './pack-schema.ts';
import type { Pack } from './packs.ts';
import { RELATIONS, relationOf } from './relations.ts';
import type { Role } from './role.ts';
import { nearest } from './suggest.ts';
import { type Path, placeAt } from './tree.ts';
import { isNoNc, type Loose } from './walk.ts';

/** An interlock of a pack under the reader's eye. */
export interface Look {
  readonly pack: Pack;
  readonly name: string;
  readonly text: Loose<InterlockText>;
  readonly tell: Tell;
  readonly warn: Tell;
}

export const at = (look: Look, ...path: Path): Place =>
  placeAt(look.pack.tree, ['interlocks', look.name, ...path]);
export const keyAt = (look: Look, ...path: Path): Place =>
  placeAt(look.pack.tree, ['interlocks', look.name, ...path], 'key');

/** The role of that name; told where the kind of machine has none. */
export const roleAt = (look: Look, name: string | undefined, path: Path): Role | undefined => {
  if (name === undefined) return undefined;
  const role = look.pack.roles.get(name);
  if (role === undefined) {
    const known = [...look.pack.roles.keys()];
    look.tell(
      at(look, ...path),
      'unknown-signal',
      { signal: name, kind: look.pack.kind, known },
      nearest(name, known),
    );
  }
  return role;
};

/** Told where a role has no such state. */
export const stateAt = (look: Look, role: Role, state: string, path: Path): void => {
  if (role.states.includes(state)) return;
  if (isNoNc(state)) look.tell(at(look, ...path), 'contact-no-nc', { text: state });
  else if (role.states.length === 0) look.tell(at(look, ...path), 'no-states', { role: role.name, state });
  else {
    const known = role.states;
    look.tell(at(look, ...path), 'unknown-state', { state, role: role.name, known }, nearest(state, known));
  }
};

/** True, and told, for a signal of a machine that cannot be named. */
export const strangeRelation = (look: Look, signal: string, path: Path): boolean => {
  if (!signal.includes('.') || relationOf(signal).relation !== undefined) return false;
  const relation = signal.slice(0, signal.indexOf('.'));
  look.tell(
    at(look, ...path),
    'unknown-relation',
    { relation, known: [...RELATIONS] },
    nearest(relation, RELATIONS),
  );
  return true;
};

export const listOf = (value: string | readonly (string | undefined)[] | undefined): readonly string[] => {
  if (value === undefined) return [];
  return typeof value === 'string' ? [value] : value.filter((item) => item !== undefined);
};
