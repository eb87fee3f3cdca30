import type { Interval } from '../measure/index.ts';
import { type Interlock, type Level, levelAt, type References, type Side } from '../rulebook/index.ts';

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
  const inner = at(plus(cause.setPoint, cause.tolerance, towardsNormal));
  const outer = at(plus(cause.setPoint, cause.tolerance, -towardsNormal));
  const clear = at(cause.clears);
  return inner && outer && clear ? { inner, outer, clear } : undefined;
};
