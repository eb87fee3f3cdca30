import { type DerivationText, isDifference } from './derivation.ts';
import type { Tell } from './fault.ts';
import type { Role } from './role.ts';
import { nearest } from './suggest.ts';
import { placeAt, type Tree } from './tree.ts';

interface Work {
  readonly read: ReadonlyMap<string, Role>;
  readonly done: Map<string, Role>;
  readonly kind: string;
  readonly tree: Tree;
  readonly tell: Tell;
}

const inputOf = (
  work: Work,
  role: Role,
  text: DerivationText,
  index: number,
  way: readonly string[],
): Role | undefined => {
  const { read, tell } = work;
  const name = text.inputs[index] ?? '';
  const list = text.as === 'rank' ? 'of' : text.as;
  const place = placeAt(work.tree, ['roles', role.name, list, ...(text.as === 'rate' ? [] : [index])]);
  if (!read.has(name)) {
    const known = [...read.keys()].filter((other) => other !== role.name);
    tell(place, 'unknown-role', { role: name, kind: work.kind, known }, nearest(name, known));
    return undefined;
  }
  const input = resolved(work, name, way);
  if (input === undefined || input.states.length === 0) return input;
  tell(place, 'derived-of-state', { role: name, known: input.states });
  return undefined;
};

const derivedOf = (work: Work, role: Role, text: DerivationText, way: readonly string[]): Role => {
  const inputs = text.inputs.flatMap((_, index) => inputOf(work, role, text, index, way) ?? []);
  const [first] = inputs;
  const shared = (first?.kinds ?? []).filter((kind) => inputs.every(({ kinds }) => kinds.includes(kind)));
  // Two speeds can be told in two ways, a set speed in Hz or percent: the nameplates make them one.
  const percent = text.as === 'slip' || text.as === 'ratio';
  if (shared.length === 0 && !percent && first !== undefined && inputs.length === text.inputs.length) {
    const params = { role: role.name, inputs: [...text.inputs] };
    work.tell(placeAt(work.tree, ['roles', role.name], 'key'), 'derived-kinds-differ', params);
  }
  const ofDifferences = inputs.length > 0 && inputs.every(({ difference }) => difference);
  return {
    ...role,
    kinds: percent ? ['ratio'] : shared,
    difference: isDifference(text.as, ofDifferences),
  };
};

/** The role as far as it is known; undefined, and told, where it is worked out from itself. */
const resolved = (work: Work, name: string, way: readonly string[]): Role | undefined => {
  const role = work.done.get(name) ?? work.read.get(name);
  if (role?.derivation === undefined || work.done.has(name)) return role;
  if (way.includes(name)) {
    const key = placeAt(work.tree, ['roles', way[0] ?? name], 'key');
    work.tell(key, 'derived-circle', { way: [...way, name] });
    return undefined;
  }
  const found = derivedOf(work, role, role.derivation, [...way, name]);
  work.done.set(name, found);
  return found;
};

/** Finds what derived roles measure, from what their inputs measure. In the order of the pack. */
export const resolveRoles = (
  read: ReadonlyMap<string, Role>,
  kind: string,
  tree: Tree,
  tell: Tell,
): ReadonlyMap<string, Role> => {
  const work: Work = { read, done: new Map(), kind, tree, tell };
  return new Map([...read].map(([name, role]) => [name, resolved(work, name, []) ?? role] as const));
};
