import { type QuantityKind, unitsOf } from '../measure/index.ts';
import type { Tell } from './fault.ts';
import { levelTexts, type Misplaced, misplaced, type Nominal } from './interlock-levels.ts';
import { CONDITION } from './leaves.ts';
import { kindOfLevel, type LevelText, parseLevel } from './level-text.ts';
import type { EffectText, InterlockText } from './pack-schema.ts';
import type { Pack, Role } from './packs.ts';
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

const at = (look: Look, ...path: Path) => placeAt(look.pack.tree, ['interlocks', look.name, ...path]);
const keyAt = (look: Look, ...path: Path) =>
  placeAt(look.pack.tree, ['interlocks', look.name, ...path], 'key');

const roleAt = (look: Look, name: string | undefined, path: Path): Role | undefined => {
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
const stateAt = (look: Look, role: Role, state: string, path: Path): void => {
  if (role.states.includes(state)) return;
  if (isNoNc(state)) look.tell(at(look, ...path), 'contact-no-nc', { text: state });
  else if (role.states.length === 0) look.tell(at(look, ...path), 'no-states', { role: role.name, state });
  else {
    const known = role.states;
    look.tell(at(look, ...path), 'unknown-state', { state, role: role.name, known }, nearest(state, known));
  }
};

const levelAtRole = (look: Look, role: Role, level: LevelText, path: Path): void => {
  if (role.states.length > 0) {
    look.tell(at(look, ...path), 'state-has-no-level', { role: role.name, known: role.states });
    return;
  }
  const kind = kindOfLevel(level);
  if (kind !== undefined && !role.kinds.includes(kind)) {
    const units = role.kinds.flatMap((wanted) => unitsOf(wanted));
    const unit = level.offset?.unit ?? '';
    look.tell(at(look, ...path), 'wrong-unit', {
      unit,
      measures: kind,
      wanted: role.kinds.join(' or '),
      units,
    });
  }
  if (role.kinds.includes('temperature') && level.factor !== 0 && level.factor !== 1) {
    look.tell(at(look, ...path), 'percent-of-temperature', { role: role.name });
  }
};

const CAUSES = ['below', 'above', 'reduced-by', 'is', 'no-pulses-for'] as const;

const checkCause = (look: Look): void => {
  const cause = look.text.cause;
  if (cause === undefined) return;
  const role = roleAt(look, cause.signal, ['cause', 'signal']);
  const said = CAUSES.filter((key) => Object.hasOwn(cause, key));
  if (said.length !== 1) look.tell(keyAt(look, 'cause'), 'one-cause', { said, known: [...CAUSES] });
  const levels = said.includes('below') || said.includes('above') || said.includes('reduced-by');
  if (levels && !Object.hasOwn(cause, 'tolerance'))
    look.tell(keyAt(look, 'cause'), 'missing-key', { key: 'tolerance' });
  for (const key of levels ? [] : (['tolerance', 'clears'] as const)) {
    if (Object.hasOwn(cause, key)) look.tell(keyAt(look, 'cause', key), 'only-with-level', { key });
  }
  if (role === undefined) return;
  if (cause.is !== undefined) stateAt(look, role, cause.is, ['cause', 'is']);
  const noPulses = cause['no-pulses-for'] !== undefined;
  if (noPulses && role.states.length > 0)
    look.tell(at(look, 'cause', 'no-pulses-for'), 'no-pulses-of-state', { role: role.name });
  const texts = levelTexts(look.text);
  if (texts === undefined) return;
  levelAtRole(look, role, texts.setPoint, ['cause', texts.key]);
  if (texts.tolerance !== undefined) {
    levelAtRole(look, role, texts.tolerance, ['cause', 'tolerance']);
    const band = texts.tolerance.of === 'absolute' || /%/.test(cause.tolerance ?? '');
    if (!band || texts.tolerance.factor >= 0.5) {
      look.tell(at(look, 'cause', 'tolerance'), 'tolerance-not-a-difference', {
        text: cause.tolerance ?? '',
      });
    }
  }
  if (texts.clears !== undefined) levelAtRole(look, role, texts.clears, ['cause', 'clears']);
  if (texts.limit !== undefined) levelAtRole(look, role, texts.limit.level, ['limit', texts.limit.key]);
};

const checkLimit = (look: Look): void => {
  const limit = look.text.limit;
  if (limit === undefined) return;
  const said = (['no-lower-than', 'no-higher-than'] as const).filter((key) => Object.hasOwn(limit, key));
  if (said.length !== 1) look.tell(keyAt(look, 'limit'), 'one-limit', { said });
  const cause = look.text.cause ?? {};
  const levels = (['below', 'above', 'reduced-by'] as const).some((key) => Object.hasOwn(cause, key));
  if (!levels) look.tell(keyAt(look, 'limit'), 'only-with-level', { key: 'limit' });
};

const WARNINGS: readonly Misplaced[] = ['set-point-at-limit', 'tolerance-beyond-limit'];

/** Set point, tolerance, clear level and limit against each other; the texts stand in the parameters as written. */
export const checkLevels = (look: Look, unit: string | undefined, nominal: Nominal): void => {
  const texts = levelTexts(look.text);
  if (texts === undefined) return;
  const { cause, limit } = look.text;
  for (const code of misplaced(texts, unit ?? texts.setPoint.offset?.unit ?? '%', nominal)) {
    const field: Path =
      code === 'clears-wrong-side' ? ['cause', 'clears'] : ['limit', texts.limit?.key ?? ''];
    const params = {
      interlock: look.name,
      setPoint: cause?.[texts.key] ?? '',
      tolerance: cause?.tolerance ?? '',
      clears: cause?.clears ?? '',
      limit: texts.limit === undefined ? '' : (limit?.[texts.limit.key] ?? ''),
    };
    const say = WARNINGS.includes(code) ? look.warn : look.tell;
    const set = at(look, 'cause', texts.key);
    // A machine's own set point is what broke the pack's limit: the fault stands where it was set.
    const here = set.file === look.pack.tree.place.file ? at(look, ...field) : set;
    say(here, code, params);
  }
};

/** Role of an effect or condition: its own, or of the machines before or after it. */
export const RELATIONS = ['feeder', 'receiver'] as const;
export const relationOf = (signal: string): { relation?: (typeof RELATIONS)[number]; role: string } => {
  const relation = RELATIONS.find((word) => signal.startsWith(`${word}.`));
  return relation === undefined ? { role: signal } : { relation, role: signal.slice(relation.length + 1) };
};

const becomesOf = (text: string): LevelText | undefined => {
  const found = /^(below|above)\s+(.+)$/.exec(text);
  const level = found === null ? undefined : parseLevel(found[2] ?? '', undefined);
  return level === undefined || 'fault' in level ? undefined : level;
};

const checkEffect = (
  look: Look,
  effect: Loose<EffectText>,
  index: number,
  before: readonly string[],
): void => {
  const path = ['effects', index];
  const said = (['becomes', 'stays'] as const).filter((key) => Object.hasOwn(effect, key));
  if (said.length !== 1) look.tell(keyAt(look, ...path), 'becomes-or-stays', { said });
  for (const name of listOf(effect.after)) {
    if (before.includes(name)) continue;
    look.tell(
      at(look, ...path, 'after'),
      'after-unknown-effect',
      { name, known: before },
      nearest(name, before),
    );
  }
  if (effect.signal === undefined) return;
  if (effect.signal.includes('.') && relationOf(effect.signal).relation === undefined) {
    const relation = effect.signal.slice(0, effect.signal.indexOf('.'));
    look.tell(
      at(look, ...path, 'signal'),
      'unknown-relation',
      { relation, known: [...RELATIONS] },
      nearest(relation, RELATIONS),
    );
    return;
  }
  if (relationOf(effect.signal).relation !== undefined) return;
  const role = roleAt(look, effect.signal, [...path, 'signal']);
  if (role === undefined) return;
  checkBecomes(look, effect, role, index);
};

/** What an effect becomes, against the role it is about (of this machine or a related one). */
export const checkBecomes = (look: Look, effect: Loose<EffectText>, role: Role, index: number): void => {
  const path = ['effects', index];
  if (effect.stays !== undefined) stateAt(look, role, effect.stays, [...path, 'stays']);
  if (effect.becomes === undefined) return;
  const level = becomesOf(effect.becomes);
  if (level !== undefined) levelAtRole(look, role, level, [...path, 'becomes']);
  else if (/^(below|above)\s/.test(effect.becomes)) {
    look.tell(at(look, ...path, 'becomes'), 'not-a-level', { text: effect.becomes, unit: '', units: [] });
  } else stateAt(look, role, effect.becomes, [...path, 'becomes']);
};

export const listOf = (value: string | readonly (string | undefined)[] | undefined): readonly string[] => {
  if (value === undefined) return [];
  return typeof value === 'string' ? [value] : value.filter((item) => item !== undefined);
};

const checkArmed = (look: Look): void => {
  const when = look.text.armed?.when;
  listOf(when).forEach((text, index) => {
    const found = CONDITION.exec(text);
    if (found === null) return;
    const path = typeof when === 'string' ? ['armed', 'when'] : ['armed', 'when', index];
    const role = roleAt(look, found[1], path);
    if (role !== undefined) stateAt(look, role, found[2] ?? '', path);
  });
};

const NOMINAL_OF_PACK: Nominal = { normal: { low: 100, high: 100 }, nameplate: { low: 100, high: 100 } };

/** Differences in a unit need a real normal; pure percentages can be compared with any. */
const comparable = (look: Look): boolean => {
  const texts = levelTexts(look.text);
  const list = [texts?.setPoint, texts?.tolerance, texts?.clears, texts?.limit?.level];
  const present = list.filter((level) => level !== undefined);
  return (
    present.every((level) => level.of !== 'absolute' && level.offset === undefined) ||
    present.every((level) => level.of === 'absolute')
  );
};

/** Everything that can be said of an interlock before any machine is known. */
export const checkInterlock = (look: Look): void => {
  checkCause(look);
  checkLimit(look);
  checkArmed(look);
  const effects = look.text.effects;
  if (effects?.length === 0) look.tell(keyAt(look, 'effects'), 'no-effects', { interlock: look.name });
  const before: string[] = [];
  effects?.forEach((effect, index) => {
    if (effect === undefined) return;
    checkEffect(look, effect, index, before);
    if (effect.signal !== undefined) before.push(effect.signal);
  });
  const role = look.pack.roles.get(look.text.cause?.signal ?? '');
  if (role === undefined || !comparable(look)) return;
  checkLevels(look, customary(role.kinds, look), NOMINAL_OF_PACK);
};

const customary = (kinds: readonly QuantityKind[], look: Look): string | undefined => {
  const unit = levelTexts(look.text)?.setPoint.offset?.unit;
  if (unit !== undefined) return unit;
  const first = kinds[0];
  return first === undefined ? undefined : unitsOf(first)[0];
};
