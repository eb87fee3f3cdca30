import { type QuantityKind, unitsOf } from '../measure/index.ts';
import {
  type LevelTexts,
  levelTexts,
  type Misplaced,
  misplaced,
  type Nominal,
  readable,
} from './interlock-levels.ts';
import { type Bare, kindOfLevel, type LevelText, sameReference } from './level-text.ts';
import { at, type Look } from './look.ts';
import type { SingleText } from './pack-schema.ts';
import type { Role } from './role.ts';
import { nearest } from './suggest.ts';
import type { Path } from './tree.ts';
import type { Loose } from './walk.ts';

const measuredRoles = (look: Look): readonly string[] =>
  [...look.pack.roles.values()].filter(({ states }) => states.length === 0).map(({ name }) => name);

/** Told where the role that a level refers to is not there, is a state, or measures something else. */
const checkReference = (look: Look, role: Role, level: LevelText, path: Path): void => {
  if (level.role === undefined) return;
  const reference = look.pack.roles.get(level.role);
  const known = ['normal', 'nameplate', ...measuredRoles(look)];
  const place = at(look, ...path);
  if (reference === undefined || reference.states.length > 0) {
    const params = { reference: level.role, kind: look.pack.kind, known };
    look.tell(place, 'level-reference', params, nearest(level.role, known));
  } else if (!reference.kinds.some((kind) => role.kinds.includes(kind))) {
    const wanted = role.kinds.join(' or ');
    const params = { reference: level.role, measures: reference.kinds.join(' or '), role: role.name, wanted };
    look.tell(place, 'level-reference-kind', params);
  }
};

/** A level against the role it is compared with. `beside`: a level whose reference has been looked at. */
export const levelAtRole = (
  look: Look,
  role: Role,
  level: LevelText,
  path: Path,
  beside?: LevelText,
): void => {
  if (role.states.length > 0) {
    look.tell(at(look, ...path), 'state-has-no-level', { role: role.name, known: role.states });
    return;
  }
  const kind = kindOfLevel(level);
  if (kind !== undefined && !role.kinds.includes(kind)) {
    const units = role.kinds.flatMap((wanted) => unitsOf(wanted));
    look.tell(at(look, ...path), 'wrong-unit', {
      unit: level.offset?.unit ?? '',
      measures: kind,
      wanted: role.kinds.join(' or '),
      units,
    });
  }
  if (role.kinds.includes('temperature') && !role.difference && level.factor !== 0 && level.factor !== 1) {
    look.tell(at(look, ...path), 'percent-of-temperature', { role: role.name });
  }
  if (beside === undefined || !sameReference(level, beside)) checkReference(look, role, level, path);
};

/** A band around a set point: a plain quantity, or a percentage of what the set point refers to. */
export const checkBand = (
  look: Look,
  role: Role,
  band: LevelText | undefined,
  setPoint: LevelText,
  text: string | undefined,
  path: Path,
): void => {
  if (band === undefined) return;
  levelAtRole(look, role, band, path, setPoint);
  if ((band.of !== 'absolute' && !/%/.test(text ?? '')) || band.factor >= 0.5)
    look.tell(at(look, ...path), 'tolerance-not-a-difference', { text: text ?? '' });
  const apart = band.of !== 'absolute' && setPoint.of !== 'absolute' && !sameReference(band, setPoint);
  if (apart) look.tell(at(look, ...path), 'references-differ', { interlock: look.name, text: text ?? '' });
};

/** Told where a percentage does not say of what it is, and has to. */
export const checkSaysOf = (look: Look, text: string | undefined, bare: Bare, path: Path): void => {
  if (text === undefined || readable(text, bare) !== undefined || readable(text, 'normal') === undefined)
    return;
  look.tell(at(look, ...path), 'percent-of-what', { text });
};

const WARNINGS: readonly Misplaced[] = ['set-point-at-limit', 'tolerance-beyond-limit'];

const fieldOf = (code: Misplaced, texts: LevelTexts, path: Path): Path => {
  if (code === 'clears-wrong-side') return [...path, 'clears'];
  return code === 'release-wrong-side' ? ['release', 'at'] : ['limit', texts.limit?.key ?? ''];
};

/** Set point, tolerance, clear level and limit against each other; the texts stand in the parameters as written. */
export const checkLevels = (
  look: Look,
  cause: Loose<SingleText>,
  path: Path,
  role: Role,
  unit: string | undefined,
  nominal: Nominal,
): void => {
  const texts = levelTexts(cause, role, path.length === 1 ? look.text : {});
  if (texts === undefined) return;
  const { limit, release } = look.text;
  const own = unit ?? texts.setPoint.offset?.unit ?? '%';
  for (const code of misplaced(texts, own, role.difference, nominal)) {
    const params = {
      interlock: look.name,
      setPoint: cause[texts.key] ?? '',
      tolerance: cause.tolerance ?? '',
      clears: cause.clears ?? '',
      limit: texts.limit === undefined ? '' : (limit?.[texts.limit.key] ?? ''),
      release: release?.at ?? '',
    };
    const say = WARNINGS.includes(code) ? look.warn : look.tell;
    const set = at(look, ...path, texts.key);
    // A machine's own set point is what broke the pack's limit: the fault stands where it was set.
    const here = set.file === look.pack.tree.place.file ? at(look, ...fieldOf(code, texts, path)) : set;
    say(here, code, params);
  }
};

const HUNDRED = { low: 100, high: 100 };
/** Of a pack without a machine: percentages can be compared with any normal. */
export const NOMINAL_OF_PACK: Nominal = { normal: HUNDRED, nameplate: HUNDRED, roleOf: () => HUNDRED };

/** Differences in a unit need a real normal; pure percentages can be compared with any. */
export const comparable = (texts: LevelTexts): boolean => {
  const list = [texts.setPoint, texts.tolerance, texts.clears, texts.limit?.level, texts.release?.at].filter(
    (level) => level !== undefined,
  );
  return (
    list.every((level) => level.of !== 'absolute' && level.offset === undefined) ||
    list.every((level) => level.of === 'absolute')
  );
};

/** The unit in which a pack's absolute levels are compared. */
export const customary = (kinds: readonly QuantityKind[], texts: LevelTexts): string | undefined => {
  const unit = texts.setPoint.offset?.unit;
  if (unit !== undefined) return unit;
  const first = kinds[0];
  return first === undefined ? undefined : unitsOf(first)[0];
};
