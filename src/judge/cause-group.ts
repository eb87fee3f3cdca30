import type { Cause } from '../rulebook/index.ts';
import { NOWHERE, type Position } from './position.ts';

const nth = (values: readonly number[], rank: number): number | undefined =>
  [...values].sort((a, b) => a - b)[rank - 1];

/**
 * At least `need` of several causes at once: any of (1), all of (every one), voting between. The group is there since
 * the `need`-th of those that are there came. A member of which nothing is known may be there or not.
 */
export const groupPosition = (
  cause: Cause & { kind: 'group' },
  members: readonly (Position | undefined)[],
): Position => {
  const { need } = cause;
  const known = members.map((one) => one ?? NOWHERE);
  const certain = known.filter((one) => one.certain);
  const possible = known.filter((one) => one.possible).length;
  const clear = known.filter((one) => one.clear).length > known.length - need;
  const by = nth(
    certain.map((one) => one.reachedBy ?? Number.POSITIVE_INFINITY),
    need,
  );
  const after = nth(
    known.filter((one) => !one.clear).map((one) => one.reachedAfter ?? Number.NEGATIVE_INFINITY),
    need,
  );
  const there = certain.length >= need;
  return {
    clear,
    possible: possible >= need,
    certain: there,
    step: there && certain.every((one) => one.step),
    ...(!clear && after !== undefined && Number.isFinite(after) && { reachedAfter: after }),
    ...(there && by !== undefined && Number.isFinite(by) && { reachedBy: by }),
  };
};
