import type { Interval } from '../measure/index.ts';
import type { Interlock, Level, Side } from '../rulebook/index.ts';

/** What percentages refer to, with doubt. */
export interface References {
  readonly normal?: Interval;
  readonly nameplate?: Interval;
}

/** The level as an interval in the unit of its signal; undefined where its reference is unknown. */
export const levelAt = (level: Level, references: References): Interval | undefined => {
  if (level.of === 'absolute') return { low: level.offset, high: level.offset };
  const reference = level.of === 'normal' ? references.normal : references.nameplate;
  if (reference === undefined) return undefined;
  const a = level.factor * reference.low;
  const b = level.factor * reference.high;
  return { low: Math.min(a, b) + level.offset, high: Math.max(a, b) + level.offset };
};

/** `a + sign × b`, summed before the reference comes in, so that its doubt enters once. */
const plus = (a: Level, b: Level, sign: number): Level => ({
  of: a.of === 'absolute' ? b.of : a.of,
  factor: a.factor + sign * b.factor,
  offset: a.offset + sign * b.offset,
});

/** A falling cause as it is, a rising one turned over, so that the rest of the judge knows falling causes only. */
export const turn = (value: Interval, side: Side): Interval =>
  side === 'below' ? value : { low: -value.high, high: -value.low };

/** The levels of an interlock, turned; each an interval because normal is in doubt. */
export interface Edges {
  readonly set: Interval;
  /** Set point + tolerance: above it, the interlock must not have acted yet. */
  readonly inner: Interval;
  /** Set point − tolerance: below it, it must act. */
  readonly outer: Interval;
  readonly clear: Interval;
}

export const edgesOf = (interlock: Interlock, references: References): Edges | undefined => {
  const { cause } = interlock;
  if (cause.kind !== 'level') return undefined;
  const at = (level: Level): Interval | undefined => {
    const found = levelAt(level, references);
    return found && turn(found, cause.side);
  };
  const towardsNormal = cause.side === 'below' ? 1 : -1;
  const set = at(cause.setPoint);
  const inner = at(plus(cause.setPoint, cause.tolerance, towardsNormal));
  const outer = at(plus(cause.setPoint, cause.tolerance, -towardsNormal));
  const clear = at(cause.clears);
  return set && inner && outer && clear ? { set, inner, outer, clear } : undefined;
};
