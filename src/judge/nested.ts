import type { Interlock } from '../rulebook/index.ts';

const isLevel = ({ cause }: Interlock): boolean => cause.kind === 'level' || cause.kind === 'band';

/** Two levels on one signal are nested: the first is the other's predecessor, not its competitor. */
export const nested = (one: Interlock, other: Interlock): boolean =>
  isLevel(one) && isLevel(other) && one.cause.signal === other.cause.signal;
