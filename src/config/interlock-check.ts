import { checkCause, isLevelCause } from './cause-check.ts';
import { checkEffect } from './effect-check.ts';
import { CONDITION } from './leaves.ts';
import { at, keyAt, type Look, listOf, roleAt, stateAt, strangeRelation } from './look.ts';
import { micros } from './quantities.ts';
import { relationOf } from './relations.ts';
import { checkUpkeep } from './upkeep.ts';

const checkLimit = (look: Look): void => {
  const { limit } = look.text;
  if (limit === undefined) return;
  const said = (['no-lower-than', 'no-higher-than'] as const).filter((key) => Object.hasOwn(limit, key));
  if (said.length !== 1) look.tell(keyAt(look, 'limit'), 'one-limit', { said });
};

const checkOnlyWithLevel = (look: Look): void => {
  if (isLevelCause(look.text.cause)) return;
  for (const key of ['limit', 'release', 'repeat'] as const) {
    if (Object.hasOwn(look.text, key)) look.tell(keyAt(look, key), 'only-with-level', { key });
  }
};

const checkRelease = (look: Look): void => {
  const { release, effects } = look.text;
  if (release === undefined || effects?.some((effect) => effect?.until === 'cause-clears')) return;
  look.tell(keyAt(look, 'release'), 'only-with', {
    key: 'release',
    with: 'an effect that says "until: cause-clears"',
  });
};

const checkArmed = (look: Look): void => {
  const when = look.text.armed?.when;
  listOf(when).forEach((text, index) => {
    const found = CONDITION.exec(text);
    const signal = found?.[1];
    if (signal === undefined) return;
    const path = typeof when === 'string' ? ['armed', 'when'] : ['armed', 'when', index];
    if (strangeRelation(look, signal, path) || relationOf(signal).relation !== undefined) return;
    const role = roleAt(look, signal, path);
    if (role !== undefined) stateAt(look, role, found?.[2] ?? '', path);
  });
};

const checkNeeds = (look: Look): void => {
  const { needs } = look.text;
  listOf(needs).forEach((role, index) => {
    roleAt(look, role, typeof needs === 'string' ? ['needs'] : ['needs', index]);
  });
};

/** Harm that comes at once cannot be prevented by an interlock. */
const checkSafetyTime = (look: Look): void => {
  const key = 'process-safety-time';
  if (micros(look.text[key], undefined) === 0) look.tell(at(look, key), 'not-positive', { key });
};

/** Everything that can be said of an interlock before any machine is known. */
export const checkInterlock = (look: Look): void => {
  checkCause(look);
  checkLimit(look);
  checkOnlyWithLevel(look);
  checkRelease(look);
  checkArmed(look);
  checkNeeds(look);
  checkSafetyTime(look);
  checkUpkeep(look);
  const { effects } = look.text;
  if (effects?.length === 0) look.tell(keyAt(look, 'effects'), 'no-effects', { interlock: look.name });
  const before: string[] = [];
  effects?.forEach((effect, index) => {
    if (effect === undefined) return;
    checkEffect(look, effect, index, before);
    if (effect.signal !== undefined) before.push(effect.signal);
  });
};
