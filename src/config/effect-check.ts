import { bareLimit, readable } from './interlock-levels.ts';
import { levelAtRole } from './level-check.ts';
import type { LevelText } from './level-text.ts';
import { at, keyAt, type Look, listOf, roleAt, stateAt, strangeRelation } from './look.ts';
import type { EffectText } from './pack-schema.ts';
import { relationOf } from './relations.ts';
import type { Role } from './role.ts';
import { nearest } from './suggest.ts';
import type { Loose } from './walk.ts';

const LEVEL = /^(below|above)\s+(.+)$/;

/** The level that a measured effect must reach; undefined for a state, and where it cannot be read. */
export const levelOfEffect = (
  text: string | undefined,
  role: Role,
): { readonly side: 'below' | 'above'; readonly level: LevelText } | undefined => {
  const found = LEVEL.exec(text ?? '');
  const level = readable(found?.[2], bareLimit(role));
  if (level === undefined) return undefined;
  return { side: found?.[1] === 'below' ? 'below' : 'above', level };
};

/** By when an effect must come; a state that stays may say "for" instead. */
const checkTimes = (look: Look, effect: Loose<EffectText>, path: readonly (string | number)[]): void => {
  const said = (['within', 'for'] as const).filter((key) => Object.hasOwn(effect, key));
  if (said.length === 0) look.tell(keyAt(look, ...path), 'missing-key', { key: 'within' });
  if (said.length === 2) look.tell(keyAt(look, ...path), 'within-or-for', { said });
  if (said.includes('for') && !Object.hasOwn(effect, 'stays'))
    look.tell(keyAt(look, ...path, 'for'), 'only-with', { key: 'for', with: '"stays"' });
};

/** An effect before any machine is known; `before` are the effects that stand above it. */
export const checkEffect = (
  look: Look,
  effect: Loose<EffectText>,
  index: number,
  before: readonly string[],
): void => {
  const path = ['effects', index];
  const said = (['becomes', 'stays'] as const).filter((key) => Object.hasOwn(effect, key));
  if (said.length !== 1) look.tell(keyAt(look, ...path), 'becomes-or-stays', { said });
  checkTimes(look, effect, path);
  for (const name of listOf(effect.after)) {
    if (before.includes(name)) continue;
    look.tell(
      at(look, ...path, 'after'),
      'after-unknown-effect',
      { name, known: before },
      nearest(name, before),
    );
  }
  if (effect.signal === undefined || strangeRelation(look, effect.signal, [...path, 'signal'])) return;
  if (relationOf(effect.signal).relation !== undefined) return;
  const role = roleAt(look, effect.signal, [...path, 'signal']);
  if (role !== undefined) checkBecomes(look, effect, role, index, role.name === look.text.cause?.signal);
};

/**
 * What an effect becomes, against the role it is about (of this machine or a related one). `ofCause`: it is on the
 * signal of the cause, whose normal is the one that is known.
 */
export const checkBecomes = (
  look: Look,
  effect: Loose<EffectText>,
  role: Role,
  index: number,
  ofCause: boolean,
): void => {
  const path = ['effects', index];
  if (effect.stays !== undefined) stateAt(look, role, effect.stays, [...path, 'stays']);
  if (effect.becomes === undefined) return;
  const here = [...path, 'becomes'];
  const level = levelOfEffect(effect.becomes, role)?.level;
  if (level === undefined && /^(below|above)\s/.test(effect.becomes))
    look.tell(at(look, ...here), 'not-a-level', { text: effect.becomes, unit: '', units: [] });
  else if (level === undefined) stateAt(look, role, effect.becomes, here);
  else {
    levelAtRole(look, role, level, here);
    if (level.of === 'normal' && !ofCause)
      look.tell(at(look, ...here), 'effect-of-normal', { role: role.name });
  }
};
