import { add, exactly, type Interval, scale } from '../measure/index.ts';
import type { Level } from './types.ts';

/** What levels refer to, as far as it is known. In the unit of the signal. */
export interface References {
  readonly normal?: Interval | undefined;
  readonly nameplate?: Interval | undefined;
}

/** A level as an interval in the unit of its signal; undefined while its reference is not known. */
export const levelAt = (level: Level, refs: References): Interval | undefined => {
  if (level.of === 'absolute') return exactly(level.offset);
  const reference = level.of === 'normal' ? refs.normal : refs.nameplate;
  return reference === undefined ? undefined : add(scale(reference, level.factor), exactly(level.offset));
};
