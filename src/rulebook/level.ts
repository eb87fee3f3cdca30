import { add, exactly, type Interval, type SignalId, scale } from '../measure/index.ts';
import type { Cause, Interlock, Level } from './types.ts';

/** What levels refer to, as far as it is known. In the unit of the signal. */
export interface References {
  readonly normal?: Interval | undefined;
  readonly nameplate?: Interval | undefined;
  /** Values of the tags that levels refer to. */
  readonly tags?: Readonly<Record<SignalId, Interval>> | undefined;
  /** For the members of a group that have their levels on other signals. */
  readonly members?: Readonly<Record<SignalId, References>> | undefined;
}

const referenceOf = (level: Level, refs: References): Interval | undefined => {
  if (level.of === 'tag') return level.tag === undefined ? undefined : refs.tags?.[level.tag];
  return level.of === 'normal' ? refs.normal : refs.nameplate;
};

/** A level as an interval in the unit of its signal; undefined while its reference is not known. */
export const levelAt = (level: Level, refs: References): Interval | undefined => {
  if (level.of === 'absolute') return exactly(level.offset);
  const reference = referenceOf(level, refs);
  return reference === undefined ? undefined : add(scale(reference, level.factor), exactly(level.offset));
};

/** `a + sign × b`, summed before the reference comes in, so that its doubt enters once. */
export const levelPlus = (a: Level, b: Level, sign: number): Level => ({
  ...(a.of === 'absolute' ? b : a),
  factor: a.factor + sign * b.factor,
  offset: a.offset + sign * b.offset,
});

const levelsOf = (cause: Cause): readonly Level[] => {
  if (cause.kind === 'level') return [cause.setPoint, cause.tolerance, cause.clears];
  if (cause.kind === 'band') return [cause.near, cause.far];
  return cause.kind === 'group' ? cause.of.flatMap(levelsOf) : [];
};

/** The tags that an interlock's levels refer to. */
export const tagsOf = (interlock: Interlock): readonly SignalId[] => {
  const effects = interlock.effects.flatMap(({ becomes }) =>
    becomes.kind === 'level' ? [becomes.level] : [],
  );
  const { limit, release, repeat } = interlock;
  const rest = [limit?.level, release?.at, release?.tolerance, repeat?.within].filter(
    (level) => level !== undefined,
  );
  const tags = [...levelsOf(interlock.cause), ...effects, ...rest].flatMap(({ tag }) => tag ?? []);
  return [...new Set(tags)];
};
