import { convert, kindOfUnit, parseQuantity, type Quantity, type QuantityKind } from '../measure/index.ts';
import type { Level } from '../rulebook/index.ts';

/** A level as a person wrote it, before it is known in which unit the signal is measured. */
export interface LevelText {
  readonly of: Level['of'];
  /** `% of` as a fraction; 1 for `normal - 10 rpm`; 0 where the level is absolute. */
  readonly factor: number;
  /** Absolute value, or the difference to the reference. */
  readonly offset?: Quantity;
}

const PERCENT = /^([+-]?\d+(?:\.\d+)?)\s*%(?:\s+of\s+(normal|nameplate))?$/;
const DIFFERENCE = /^(normal|nameplate)(?:\s*([+-])\s*(.+))?$/;

export type LevelRead =
  | LevelText
  | { readonly fault: 'not-a-level' | 'percent-of-what' | 'unknown-unit'; readonly unit?: string };

/**
 * Reads `80 degC`, `82 % of normal`, `5 % of nameplate`, `normal - 10 rpm`, `normal - 10 %`.
 * A bare percentage is of `bare`; where that is undefined it must say of what.
 */
export const parseLevel = (text: string, bare: 'normal' | undefined): LevelRead => {
  const percent = PERCENT.exec(text.trim());
  if (percent !== null) {
    const of = percent[2] === 'nameplate' || percent[2] === 'normal' ? percent[2] : bare;
    if (of === undefined) return { fault: 'percent-of-what' };
    return { of, factor: Number(percent[1]) / 100 };
  }
  const difference = DIFFERENCE.exec(text.trim());
  if (difference !== null) {
    const of = difference[1] === 'nameplate' ? 'nameplate' : 'normal';
    if (difference[3] === undefined) return { of, factor: 1 };
    const by = parseQuantity(difference[3]);
    if (by === undefined) return { fault: 'not-a-level' };
    const sign = difference[2] === '-' ? -1 : 1;
    if (by.unit === '%') return { of, factor: (100 + sign * by.value) / 100 };
    if (kindOfUnit(by.unit) === undefined) return { fault: 'unknown-unit', unit: by.unit };
    return { of, factor: 1, offset: { value: sign * by.value, unit: by.unit } };
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
  return { of: level.of, factor: Math.round((1 - level.factor) * 1e12) / 1e12 };
};

/** The kind of quantity that the level's own unit measures; undefined for a pure percentage. */
export const kindOfLevel = (level: LevelText): QuantityKind | undefined =>
  level.offset === undefined ? undefined : kindOfUnit(level.offset.unit);

/** The level in the unit of the signal; undefined where the units do not measure the same. */
export const levelIn = (level: LevelText, unit: string, difference = false): Level | undefined => {
  if (level.offset === undefined) return { of: level.of, factor: level.factor, offset: 0 };
  const offset = convert(level.offset.value, level.offset.unit, unit, difference || level.of !== 'absolute');
  return offset === undefined ? undefined : { of: level.of, factor: level.factor, offset };
};
