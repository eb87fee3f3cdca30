import {
  convert,
  kindOfUnit,
  parseQuantity,
  type Quantity,
  type QuantityKind,
  type SignalId,
} from '../measure/index.ts';
import type { Level } from '../rulebook/index.ts';

/** A level as a person wrote it, before it is known in which unit the signal is measured. */
export interface LevelText {
  readonly of: Level['of'];
  /** Role that holds the reference, where `of` is tag. */
  readonly role?: string;
  /** `% of` as a fraction; 1 for `normal - 10 rpm`; 0 where the level is absolute. */
  readonly factor: number;
  /** Absolute value, or the difference to the reference. */
  readonly offset?: Quantity;
}

/**
 * What a percentage that does not say of what is of: normal, nameplate, a role, or nothing (`absolute`: the signal is
 * itself measured in percent). Undefined: it must say.
 */
export type Bare = string | undefined;

const NAME = '[A-Za-z][A-Za-z0-9._-]*';
const PERCENT = new RegExp(String.raw`^([+-]?\d+(?:\.\d+)?)\s*%(?:\s+of\s+(${NAME}))?$`);
const DIFFERENCE = /^(normal|nameplate)(?:\s*([+-])\s*(.+))?$/;
/** A role has dashes in its name: the sign behind it stands free. */
const ROLE = new RegExp(String.raw`^(${NAME})(?:\s+([+-])\s*(.+))?$`);

export type LevelRead =
  | LevelText
  | { readonly fault: 'not-a-level' | 'percent-of-what' | 'unknown-unit'; readonly unit?: string };

const referenceOf = (word: string): Pick<LevelText, 'of' | 'role'> =>
  word === 'normal' || word === 'nameplate' ? { of: word } : { of: 'tag', role: word };

/** A level that its reference alone has brought forth, for other levels beside it: `1.5 %` is of the same. */
export const bareOf = (level: LevelText): Bare => level.role ?? level.of;

/** The level refers to the same value as another one. */
export const sameReference = (one: LevelText, other: LevelText): boolean => bareOf(one) === bareOf(other);

const percentOf = (percent: number, word: string | undefined, bare: Bare): LevelRead => {
  if (word === undefined && bare === 'absolute')
    return { of: 'absolute', factor: 0, offset: { value: percent, unit: '%' } };
  const of = word ?? bare;
  return of === undefined ? { fault: 'percent-of-what' } : { ...referenceOf(of), factor: percent / 100 };
};

/**
 * Reads `80 degC`, `82 % of normal`, `5 % of nameplate`, `normal - 10 rpm`, `normal - 10 %`, and the same of a role
 * that holds a value: `82 % of set-speed`, `trip-set-point`, `set-speed - 10 rpm`.
 */
export const parseLevel = (text: string, bare: Bare): LevelRead => {
  const percent = PERCENT.exec(text.trim());
  if (percent !== null) return percentOf(Number(percent[1]), percent[2], bare);
  const difference = DIFFERENCE.exec(text.trim()) ?? ROLE.exec(text.trim());
  if (difference !== null) {
    const reference = referenceOf(difference[1] ?? '');
    if (difference[3] === undefined) return { ...reference, factor: 1 };
    const by = parseQuantity(difference[3]);
    if (by === undefined) return { fault: 'not-a-level' };
    const sign = difference[2] === '-' ? -1 : 1;
    if (by.unit === '%') return { ...reference, factor: (100 + sign * by.value) / 100 };
    if (kindOfUnit(by.unit) === undefined) return { fault: 'unknown-unit', unit: by.unit };
    return { ...reference, factor: 1, offset: { value: sign * by.value, unit: by.unit } };
  }
  const quantity = parseQuantity(text);
  if (quantity === undefined) return { fault: 'not-a-level' };
  if (kindOfUnit(quantity.unit) === undefined) return { fault: 'unknown-unit', unit: quantity.unit };
  return { of: 'absolute', factor: 0, offset: quantity };
};

/** `reduced-by: 18 %` as the level below which it acts: 82 % of normal. */
export const reducedBy = (text: string): LevelRead => {
  const level = parseLevel(text, 'normal');
  if ('fault' in level) return level;
  if (level.of === 'absolute') {
    const by = level.offset;
    return by === undefined
      ? level
      : { of: 'normal', factor: 1, offset: { value: -by.value, unit: by.unit } };
  }
  if (level.offset !== undefined || level.factor >= 1) return { fault: 'not-a-level' };
  return { ...level, factor: Math.round((1 - level.factor) * 1e12) / 1e12 };
};

/** The kind of quantity that the level's own unit measures; undefined for a pure percentage. */
export const kindOfLevel = (level: LevelText): QuantityKind | undefined =>
  level.offset === undefined ? undefined : kindOfUnit(level.offset.unit);

/**
 * The level in the unit of the signal; undefined where the units do not measure the same. `difference`: it is one, and
 * a temperature then has no zero. `tag`: the signal of its role.
 */
export const levelIn = (
  level: LevelText,
  unit: string,
  difference = false,
  tag?: SignalId,
): Level | undefined => {
  const { of, factor } = level;
  const reference = { of, ...(of === 'tag' && tag !== undefined ? { tag } : {}), factor };
  if (level.offset === undefined) return { ...reference, offset: 0 };
  const offset = convert(level.offset.value, level.offset.unit, unit, difference || of !== 'absolute');
  return offset === undefined ? undefined : { ...reference, offset };
};
