import { checkBecomes } from './effect-check.ts';
import { CONDITION } from './leaves.ts';
import { at, type Look, listOf, stateAt } from './look.ts';
import type { Draft } from './machines.ts';
import { relatives } from './presence.ts';
import { relationOf } from './relations.ts';
import type { Role } from './role.ts';
import { nearest } from './suggest.ts';
import type { Path } from './tree.ts';

/** The role that is named, at each machine that stands in the relation; told where its kind has none. */
const rolesOf = (
  look: Look,
  draft: Draft,
  drafts: readonly Draft[],
  signal: string,
  path: Path,
): readonly Role[] => {
  const { relation, role } = relationOf(signal);
  if (relation === undefined) return [];
  return relatives(draft, drafts, relation).flatMap(({ pack }) => {
    const found = pack.roles.get(role);
    const known = [...pack.roles.keys()];
    if (found === undefined)
      look.tell(
        at(look, ...path),
        'unknown-signal',
        { signal, kind: pack.kind, known },
        nearest(role, known),
      );
    return found ?? [];
  });
};

/** What an interlock names of other machines, against their kinds. */
export const checkRelated = (look: Look, draft: Draft, drafts: readonly Draft[]): void => {
  const { effects, armed } = look.text;
  effects?.forEach((effect, index) => {
    if (effect?.signal === undefined) return;
    const path = ['effects', index, 'signal'];
    for (const role of rolesOf(look, draft, drafts, effect.signal, path))
      checkBecomes(look, effect, role, index, false);
  });
  const when = armed?.when;
  listOf(when).forEach((text, index) => {
    const found = CONDITION.exec(text);
    const path = typeof when === 'string' ? ['armed', 'when'] : ['armed', 'when', index];
    for (const role of rolesOf(look, draft, drafts, found?.[1] ?? '', path))
      stateAt(look, role, found?.[2] ?? '', path);
  });
};
