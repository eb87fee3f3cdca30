import type { Interval } from '../measure/index.ts';
import { type Cause, type Level, levelAt, levelPlus, type References, type Side } from '../rulebook/index.ts';

/** A falling cause as it is, a rising one turned over, so that the rest of the judge knows falling causes only. */
export const turn = (value: Interval, side: Side): Interval =>
  side === 'below' ? { low: value.low, high: value.high } : { low: -value.high, high: -value.low };

/** The levels of an interlock, turned; each an interval because normal is in doubt. */
export interface Edges {
  /** Set point + tolerance: above it, the interlock must not have acted yet. */
  readonly inner: Interval;
  /** Set point − tolerance: below it, it must act. */
  readonly outer: Interval;
  readonly clear: Interval;
}

/** The two levels between which a value is held, turned. */
export interface BandEdges {
  readonly near: Interval;
  readonly far: Interval;
}

const turned = (level: Level, side: Side, references: References): Interval | undefined => {
  const found = levelAt(level, references);
  return found && turn(found, side);
};

export const edgesOf = (cause: Cause, references: References): Edges | undefined => {
  if (cause.kind !== 'level') return undefined;
  const { side } = cause;
  const towardsNormal = side === 'below' ? 1 : -1;
  const inner = turned(levelPlus(cause.setPoint, cause.tolerance, towardsNormal), side, references);
  const outer = turned(levelPlus(cause.setPoint, cause.tolerance, -towardsNormal), side, references);
  const clear = turned(cause.clears, side, references);
  return inner && outer && clear ? { inner, outer, clear } : undefined;
};

export const bandEdgesOf = (
  cause: Cause & { kind: 'band' },
  references: References,
): BandEdges | undefined => {
  const near = turned(cause.near, cause.side, references);
  const far = turned(cause.far, cause.side, references);
  return near && far ? { near, far } : undefined;
};
