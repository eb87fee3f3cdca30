import type { CauseText, SingleText } from './pack-schema.ts';
import type { Path } from './tree.ts';
import type { Loose } from './walk.ts';

/** Keys that each say a cause, and the kind of cause that they say. */
export const CAUSES = {
  below: 'level',
  above: 'level',
  'reduced-by': 'level',
  is: 'contact',
  'no-pulses-for': 'no-pulses',
  between: 'band',
  'sensor-fault': 'sensor-fault',
  'silent-for': 'silent',
  'stuck-for': 'stuck',
  restarts: 'restart',
} as const satisfies Partial<Record<keyof SingleText, string>>;

/** Keys that say how many of a list of causes must be there at once; 0: all of them. */
export const GROUPS = { 'any-of': 1, 'all-of': 0, '2-of': 2, '3-of': 3, '4-of': 4 } as const;

export type CauseKey = keyof typeof CAUSES;
export type GroupKey = keyof typeof GROUPS;

const CAUSE_KEYS = Object.keys(CAUSES) as readonly CauseKey[];
const GROUP_KEYS = Object.keys(GROUPS) as readonly GroupKey[];
export const ALL_CAUSES: readonly string[] = [...CAUSE_KEYS, ...GROUP_KEYS];

/** The keys by which a cause says what it is; exactly one where it is right. */
export const causeKeys = (cause: Loose<CauseText>): readonly CauseKey[] =>
  CAUSE_KEYS.filter((key) => Object.hasOwn(cause, key));
export const groupKeys = (cause: Loose<CauseText>): readonly GroupKey[] =>
  GROUP_KEYS.filter((key) => Object.hasOwn(cause, key));

export interface Group {
  readonly key: GroupKey;
  readonly need: number;
  readonly members: readonly Loose<CauseText>[];
}

/** The causes that a group is made of; undefined for a single cause. */
export const groupOf = (cause: Loose<CauseText>): Group | undefined => {
  const [key] = groupKeys(cause);
  if (key === undefined) return undefined;
  const members = (cause[key] ?? []).filter((member) => member !== undefined);
  return { key, need: GROUPS[key] === 0 ? members.length : GROUPS[key], members };
};

/** A single cause, and where it stands in the interlock. */
export interface Leaf {
  readonly cause: Loose<SingleText>;
  readonly path: Path;
}

/** The single causes that a cause is made of, in order; a cause that is no group is its own. */
export const leavesOf = (cause: Loose<CauseText> | undefined, path: Path = ['cause']): readonly Leaf[] => {
  if (cause === undefined) return [];
  const [key] = groupKeys(cause);
  if (key === undefined) return [{ cause, path }];
  return (cause[key] ?? []).flatMap((member, index) => leavesOf(member, [...path, key, index]));
};
