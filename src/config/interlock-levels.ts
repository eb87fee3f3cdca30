import { atMost, type Interval, lessThan } from '../measure/index.ts';
import { type Level, levelAt, type Side } from '../rulebook/index.ts';
import { type LevelText, levelIn, parseLevel, reducedBy } from './level-text.ts';
import type { CauseText, InterlockText } from './pack-schema.ts';
import type { Loose } from './walk.ts';

/** The levels of an interlock as texts that can be read. */
export interface LevelTexts {
  readonly side: Side;
  /** Key of the cause that holds the set point. */
  readonly key: 'below' | 'above' | 'reduced-by';
  readonly setPoint: LevelText;
  readonly tolerance?: LevelText;
  readonly clears?: LevelText;
  readonly limit?: { readonly key: 'no-lower-than' | 'no-higher-than'; readonly level: LevelText };
}

const readable = (text: string | undefined, bare: 'normal' | undefined): LevelText | undefined => {
  const read = text === undefined ? undefined : parseLevel(text, bare);
  return read === undefined || 'fault' in read ? undefined : read;
};

const setPointOf = (cause: Loose<CauseText>): Pick<LevelTexts, 'side' | 'key' | 'setPoint'> | undefined => {
  const below = readable(cause.below, 'normal');
  if (below !== undefined) return { side: 'below', key: 'below', setPoint: below };
  const above = readable(cause.above, 'normal');
  if (above !== undefined) return { side: 'above', key: 'above', setPoint: above };
  const reduced = cause['reduced-by'] === undefined ? undefined : reducedBy(cause['reduced-by']);
  if (reduced === undefined || 'fault' in reduced) return undefined;
  return { side: 'below', key: 'reduced-by', setPoint: reduced };
};

const limitOf = (limit: Loose<InterlockText['limit']>): LevelTexts['limit'] => {
  const low = readable(limit?.['no-lower-than'], undefined);
  if (low !== undefined) return { key: 'no-lower-than', level: low };
  const high = readable(limit?.['no-higher-than'], undefined);
  return high === undefined ? undefined : { key: 'no-higher-than', level: high };
};

/** The levels of a cause that is a level; undefined for other causes and where the set point cannot be read. */
export const levelTexts = (text: Loose<InterlockText>): LevelTexts | undefined => {
  const set = setPointOf(text.cause ?? {});
  if (set === undefined) return undefined;
  const tolerance = readable(text.cause?.tolerance, 'normal');
  const clears = readable(text.cause?.clears, 'normal');
  const limit = limitOf(text.limit);
  return {
    ...set,
    ...(tolerance === undefined ? {} : { tolerance }),
    ...(clears === undefined ? {} : { clears }),
    ...(limit === undefined ? {} : { limit }),
  };
};

/** Where the cause is certainly gone, when nothing was said: the near edge of the tolerance. */
export const clearsOf = (side: Side, setPoint: Level, tolerance: Level): Level => {
  const sign = side === 'below' ? 1 : -1;
  const factor = Math.round((setPoint.factor + sign * tolerance.factor) * 1e12) / 1e12;
  const of = setPoint.of === 'absolute' ? tolerance.of : setPoint.of;
  return { of, factor, offset: setPoint.offset + sign * tolerance.offset };
};

/** What percentages refer to, as far as it is known before any measurement. */
export interface Nominal {
  readonly normal?: Interval;
  readonly nameplate?: Interval;
}

export type Misplaced =
  | 'clears-wrong-side'
  | 'limit-beyond-set-point'
  | 'limit-wrong-side'
  | 'set-point-at-limit'
  | 'tolerance-beyond-limit';

const middle = (level: Level | undefined, nominal: Nominal): number | undefined => {
  const found = level === undefined ? undefined : levelAt(level, nominal);
  return found === undefined ? undefined : (found.low + found.high) / 2;
};

/**
 * Levels that contradict each other. Compared as numbers in `unit`; what needs a reference that is not known
 * is not compared. Touching is told apart from crossing with the slack of `measure`.
 */
export const misplaced = (texts: LevelTexts, unit: string, nominal: Nominal): readonly Misplaced[] => {
  const value = (level: LevelText | undefined, difference = false): number | undefined =>
    level === undefined ? undefined : middle(levelIn(level, unit, difference), nominal);
  const setPoint = value(texts.setPoint);
  if (setPoint === undefined) return [];
  const sign = texts.side === 'below' ? 1 : -1;
  const clears = value(texts.clears);
  const found: Misplaced[] = [];
  if (clears !== undefined && !lessThan(sign * setPoint, sign * clears)) found.push('clears-wrong-side');
  const limit = value(texts.limit?.level);
  if (texts.limit === undefined || limit === undefined) return found;
  if ((texts.limit.key === 'no-lower-than') !== (texts.side === 'below'))
    return [...found, 'limit-wrong-side'];
  const tolerance = value(texts.tolerance, true) ?? 0;
  if (lessThan(sign * setPoint, sign * limit)) found.push('limit-beyond-set-point');
  else if (atMost(sign * setPoint, sign * limit)) found.push('set-point-at-limit');
  else if (lessThan(sign * setPoint - tolerance, sign * limit)) found.push('tolerance-beyond-limit');
  return found;
};
