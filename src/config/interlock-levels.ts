import { atMost, type Interval, lessThan } from '../measure/index.ts';
import { type Level, levelAt, type Side } from '../rulebook/index.ts';
import { type Bare, bareOf, type LevelText, levelIn, parseLevel, reducedBy } from './level-text.ts';
import type { InterlockText, SingleText } from './pack-schema.ts';
import type { Role } from './role.ts';
import type { Loose } from './walk.ts';

export type LimitKey = 'no-lower-than' | 'no-higher-than';

/** The levels of a cause as texts that can be read. */
export interface LevelTexts {
  readonly side: Side;
  /** Key of the cause that holds the set point. */
  readonly key: 'below' | 'above' | 'reduced-by';
  readonly setPoint: LevelText;
  readonly tolerance?: LevelText;
  readonly clears?: LevelText;
  readonly limit?: { readonly key: LimitKey; readonly level: LevelText };
  readonly release?: { readonly at?: LevelText; readonly tolerance?: LevelText };
  readonly repeat?: LevelText;
}

export const readable = (text: string | undefined, bare: Bare): LevelText | undefined => {
  const read = text === undefined ? undefined : parseLevel(text, bare);
  return read === undefined || 'fault' in read ? undefined : read;
};

/** Of what a percentage is that does not say it: a signal measured in percent is compared as it is. */
export const bareFor = (role: Role | undefined): 'normal' | 'absolute' =>
  role !== undefined && role.kinds.length > 0 && role.kinds.every((kind) => kind === 'ratio')
    ? 'absolute'
    : 'normal';

/** The same for a limit, which has to say it. */
export const bareLimit = (role: Role | undefined): 'absolute' | undefined =>
  bareFor(role) === 'absolute' ? 'absolute' : undefined;

const setPointOf = (
  cause: Loose<SingleText>,
  bare: Bare,
): Pick<LevelTexts, 'side' | 'key' | 'setPoint'> | undefined => {
  const below = readable(cause.below, bare);
  if (below !== undefined) return { side: 'below', key: 'below', setPoint: below };
  const above = readable(cause.above, bare);
  if (above !== undefined) return { side: 'above', key: 'above', setPoint: above };
  const reduced = cause['reduced-by'] === undefined ? undefined : reducedBy(cause['reduced-by']);
  if (reduced === undefined || 'fault' in reduced) return undefined;
  return { side: 'below', key: 'reduced-by', setPoint: reduced };
};

const limitOf = (limit: Loose<InterlockText['limit']>, bare: Bare): LevelTexts['limit'] => {
  const low = readable(limit?.['no-lower-than'], bare);
  if (low !== undefined) return { key: 'no-lower-than', level: low };
  const high = readable(limit?.['no-higher-than'], bare);
  return high === undefined ? undefined : { key: 'no-higher-than', level: high };
};

const releaseOf = (release: Loose<InterlockText['release']>, bare: Bare): LevelTexts['release'] => {
  if (release === undefined) return undefined;
  const at = readable(release.at, bare);
  const tolerance = readable(release.tolerance, bare);
  return { ...(at === undefined ? {} : { at }), ...(tolerance === undefined ? {} : { tolerance }) };
};

/**
 * The levels of a cause that is a level, with those of the interlock where `text` is handed in; undefined for other
 * causes and where the set point cannot be read. A bare percentage beside the set point is of the same.
 */
export const levelTexts = (
  cause: Loose<SingleText>,
  role: Role | undefined,
  text: Loose<InterlockText> = {},
): LevelTexts | undefined => {
  const set = setPointOf(cause, bareFor(role));
  if (set === undefined) return undefined;
  const bare = set.setPoint.of === 'absolute' ? bareFor(role) : bareOf(set.setPoint);
  const tolerance = readable(cause.tolerance, bare);
  const clears = readable(cause.clears, bare);
  const limit = limitOf(text.limit, bareLimit(role));
  const release = releaseOf(text.release, bare);
  const repeat = readable(text.repeat?.within, bare);
  return {
    ...set,
    ...(tolerance === undefined ? {} : { tolerance }),
    ...(clears === undefined ? {} : { clears }),
    ...(limit === undefined ? {} : { limit }),
    ...(release === undefined ? {} : { release }),
    ...(repeat === undefined ? {} : { repeat }),
  };
};

/** The edges of a band; the second may leave out of what its percentage is. */
export const bandTexts = (
  cause: Loose<SingleText>,
  role: Role | undefined,
): { readonly near?: LevelText; readonly far?: LevelText } => {
  const [first, second] = cause.between ?? [];
  const near = readable(first, bareFor(role));
  const bare = near === undefined || near.of === 'absolute' ? bareFor(role) : bareOf(near);
  const far = readable(second, bare);
  return { ...(near === undefined ? {} : { near }), ...(far === undefined ? {} : { far }) };
};

/**
 * On which side of normal the band lies, its first edge being the nearer one. Undefined where the edges cannot be put
 * in order whatever normal is: they refer to different values, or are the same.
 */
export const bandSide = (near: Level, far: Level): Side | undefined => {
  if (near.of !== far.of || near.tag !== far.tag) return undefined;
  const factor = near.factor - far.factor;
  const offset = near.offset - far.offset;
  if (factor === 0 && offset === 0) return undefined;
  if (factor >= 0 && offset >= 0) return 'below';
  return factor <= 0 && offset <= 0 ? 'above' : undefined;
};

/** Where the cause is certainly gone, when nothing was said: the near edge of the tolerance. */
export const clearsOf = (side: Side, setPoint: Level, tolerance: Level): Level => {
  const sign = side === 'below' ? 1 : -1;
  const factor = Math.round((setPoint.factor + sign * tolerance.factor) * 1e12) / 1e12;
  const { of, tag } = setPoint.of === 'absolute' ? tolerance : setPoint;
  return {
    of,
    ...(tag === undefined ? {} : { tag }),
    factor,
    offset: setPoint.offset + sign * tolerance.offset,
  };
};

/** What percentages refer to, as far as it is known before any measurement. */
export interface Nominal {
  readonly normal?: Interval | undefined;
  readonly nameplate?: Interval | undefined;
  /** Of a role that levels refer to. */
  readonly roleOf?: (role: string) => Interval | undefined;
}

export type Misplaced =
  | 'clears-wrong-side'
  | 'limit-beyond-set-point'
  | 'limit-wrong-side'
  | 'release-wrong-side'
  | 'set-point-at-limit'
  | 'tolerance-beyond-limit';

const middle = (text: LevelText, unit: string, difference: boolean, nominal: Nominal): number | undefined => {
  const level = levelIn(text, unit, difference);
  if (level === undefined) return undefined;
  // A role stands in for normal: the sum is the same.
  const found =
    text.role === undefined
      ? levelAt(level, nominal)
      : levelAt({ ...level, of: 'normal' }, { normal: nominal.roleOf?.(text.role) });
  return found === undefined ? undefined : (found.low + found.high) / 2;
};

/**
 * Levels that contradict each other. Compared as numbers in `unit`; what needs a reference that is not known
 * is not compared. Touching is told apart from crossing with the slack of `measure`.
 */
export const misplaced = (
  texts: LevelTexts,
  unit: string,
  difference: boolean,
  nominal: Nominal,
): readonly Misplaced[] => {
  const value = (level: LevelText | undefined, apart = difference): number | undefined =>
    level === undefined ? undefined : middle(level, unit, apart, nominal);
  const setPoint = value(texts.setPoint);
  if (setPoint === undefined) return [];
  const sign = texts.side === 'below' ? 1 : -1;
  const clears = value(texts.clears);
  const release = value(texts.release?.at);
  const found: Misplaced[] = [];
  if (clears !== undefined && !lessThan(sign * setPoint, sign * clears)) found.push('clears-wrong-side');
  if (release !== undefined && lessThan(sign * release, sign * setPoint)) found.push('release-wrong-side');
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
