import { unitsOf } from '../measure/index.ts';
import {
  ALL_CAUSES,
  CAUSES,
  type CauseKey,
  causeKeys,
  groupKeys,
  groupOf,
  type Leaf,
  leavesOf,
} from './cause-text.ts';
import { bandSide, bandTexts, bareLimit, levelTexts } from './interlock-levels.ts';
import {
  checkBand,
  checkLevels,
  checkSaysOf,
  comparable,
  customary,
  levelAtRole,
  NOMINAL_OF_PACK,
} from './level-check.ts';
import { levelIn, sameReference } from './level-text.ts';
import { at, keyAt, type Look, roleAt, stateAt } from './look.ts';
import type { CauseText, SingleText } from './pack-schema.ts';
import type { Role } from './role.ts';
import type { Path } from './tree.ts';
import type { Loose } from './walk.ts';

/** Keys that belong to one kind of cause, and whether it needs them. */
const DETAILS = {
  tolerance: { of: 'level', needed: true },
  clears: { of: 'level', needed: false },
  hold: { of: 'band', needed: true },
  within: { of: 'stuck', needed: true },
} as const;

/** What a person would call the key that a detail goes with. */
const OWNER = { band: '"between"', stuck: '"stuck-for"' } as const;

const checkDetails = (look: Look, cause: Loose<SingleText>, path: Path, keys: readonly CauseKey[]): void => {
  for (const [key, { of, needed }] of Object.entries(DETAILS)) {
    const wanted = keys.some((said) => CAUSES[said] === of);
    const there = Object.hasOwn(cause, key);
    if (wanted && needed && !there) look.tell(keyAt(look, ...path), 'missing-key', { key });
    if (wanted || !there) continue;
    const place = keyAt(look, ...path, key);
    if (of === 'level') look.tell(place, 'only-with-level', { key });
    else look.tell(place, 'only-with', { key, with: OWNER[of] });
  }
};

const checkLevelCause = (look: Look, { cause, path }: Leaf, role: Role): void => {
  const own = path.length === 1 ? look.text : {};
  const texts = levelTexts(cause, role, own);
  if (texts === undefined) return;
  const { setPoint, limit, release } = texts;
  levelAtRole(look, role, setPoint, [...path, texts.key]);
  checkBand(look, role, texts.tolerance, setPoint, cause.tolerance, [...path, 'tolerance']);
  if (texts.clears !== undefined) levelAtRole(look, role, texts.clears, [...path, 'clears'], setPoint);
  for (const key of ['no-lower-than', 'no-higher-than'] as const)
    checkSaysOf(look, own.limit?.[key], bareLimit(role), ['limit', key]);
  if (limit !== undefined) levelAtRole(look, role, limit.level, ['limit', limit.key], setPoint);
  if (release?.at !== undefined) levelAtRole(look, role, release.at, ['release', 'at'], setPoint);
  checkBand(look, role, release?.tolerance, setPoint, own.release?.tolerance, ['release', 'tolerance']);
  checkBand(look, role, texts.repeat, setPoint, own.repeat?.within, ['repeat', 'within']);
  if (comparable(texts)) checkLevels(look, cause, path, role, customary(role.kinds, texts), NOMINAL_OF_PACK);
};

const checkBetween = (look: Look, { cause, path }: Leaf, role: Role): void => {
  const here = [...path, 'between'];
  if (cause.between === undefined) return;
  if (cause.between.length !== 2) {
    look.tell(keyAt(look, ...here), 'between-two', { said: cause.between.length });
    return;
  }
  const { near, far } = bandTexts(cause, role);
  if (near !== undefined) levelAtRole(look, role, near, [...here, 0]);
  if (far !== undefined) levelAtRole(look, role, far, [...here, 1], near);
  if (near === undefined || far === undefined || role.states.length > 0) return;
  const unit = near.offset?.unit ?? far.offset?.unit ?? unitsOf(role.kinds[0] ?? 'ratio')[0] ?? '';
  const [a, b] = [near, far].map((level) => levelIn(level, unit, role.difference));
  // Units that do not fit have been told.
  if (a === undefined || b === undefined) return;
  if (!sameReference(near, far) || bandSide(a, b) === undefined)
    look.tell(keyAt(look, ...here), 'band-edges', {
      near: cause.between[0] ?? '',
      far: cause.between[1] ?? '',
    });
};

const MEASURED: readonly CauseKey[] = ['sensor-fault', 'stuck-for', 'restarts'];

const checkKind = (look: Look, { cause, path }: Leaf, role: Role, keys: readonly CauseKey[]): void => {
  if (keys.includes('no-pulses-for') && role.states.length > 0)
    look.tell(at(look, ...path, 'no-pulses-for'), 'no-pulses-of-state', { role: role.name });
  for (const key of MEASURED) {
    if (keys.includes(key) && role.states.length > 0)
      look.tell(keyAt(look, ...path, key), 'cause-of-state', { key, role: role.name });
  }
  if (keys.includes('restarts') && role.states.length === 0 && !role.kinds.includes('count'))
    look.tell(keyAt(look, ...path, 'restarts'), 'restarts-of-count', { role: role.name });
  if (cause.is !== undefined) stateAt(look, role, cause.is, [...path, 'is']);
};

const checkWithin = (look: Look, { cause, path }: Leaf, role: Role): void => {
  const band = cause.within;
  if (band === undefined || role.states.length > 0) return;
  const units = role.kinds.flatMap((kind) => unitsOf(kind));
  const unit = /[A-Za-z%]\S*$/.exec(band)?.[0] ?? '';
  if (units.includes(unit)) return;
  look.tell(at(look, ...path, 'within'), 'wrong-unit', { unit, wanted: role.kinds.join(' or '), units });
};

const checkLeaf = (look: Look, leaf: Leaf): Role | undefined => {
  const { cause, path } = leaf;
  const keys = causeKeys(cause);
  if (!Object.hasOwn(cause, 'signal')) look.tell(keyAt(look, ...path), 'missing-key', { key: 'signal' });
  const role = roleAt(look, cause.signal, [...path, 'signal']);
  if (keys.length !== 1)
    look.tell(keyAt(look, ...path), 'one-cause', { said: [...keys], known: [...ALL_CAUSES] });
  checkDetails(look, cause, path, keys);
  if (role === undefined) return undefined;
  checkKind(look, leaf, role, keys);
  checkLevelCause(look, leaf, role);
  checkBetween(look, leaf, role);
  checkWithin(look, leaf, role);
  return role;
};

const checkGroup = (look: Look, cause: Loose<CauseText>, path: Path): void => {
  const group = groupOf(cause);
  if (group === undefined) return;
  const said = [...causeKeys(cause), ...groupKeys(cause)];
  if (said.length !== 1) look.tell(keyAt(look, ...path), 'one-cause', { said, known: [...ALL_CAUSES] });
  for (const key of ['signal', ...Object.keys(DETAILS)]) {
    if (Object.hasOwn(cause, key))
      look.tell(keyAt(look, ...path, key), 'only-with', { key, with: 'a single cause' });
  }
  const least = Math.max(2, group.need);
  if ((cause[group.key]?.length ?? least) < least)
    look.tell(keyAt(look, ...path, group.key), 'group-too-small', { key: group.key, least });
  cause[group.key]?.forEach((member, index) => {
    if (member !== undefined) checkGroup(look, member, [...path, group.key, index]);
  });
};

/** A cause, single or a group, before any machine is known. */
export const checkCause = (look: Look): void => {
  const { cause } = look.text;
  if (cause === undefined) return;
  checkGroup(look, cause, ['cause']);
  for (const leaf of leavesOf(cause)) checkLeaf(look, leaf);
};

/** The interlock's cause is a level of its own: limit, release and repeat go with nothing else. */
export const isLevelCause = (cause: Loose<CauseText> | undefined): boolean =>
  cause !== undefined &&
  groupKeys(cause).length === 0 &&
  causeKeys(cause).some((key) => CAUSES[key] === 'level');
