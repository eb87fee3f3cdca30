/** What one address has done while it was watched. */
export interface Moved {
  readonly address: number;
  readonly value: number;
  readonly first: number;
  readonly changes: number;
  readonly ups: number;
  readonly downs: number;
  readonly low: number;
  readonly high: number;
}

export const notMoved = (address: number, value: number): Moved => ({
  address,
  value,
  first: value,
  changes: 0,
  ups: 0,
  downs: 0,
  low: value,
  high: value,
});

const ROUND = 65_536;

/** The shorter way round: a counter that starts again at 0 has gone up. */
const isUp = (from: number, to: number): boolean => (to - from + ROUND) % ROUND < ROUND / 2;

export const moved = (before: Moved, value: number): Moved => {
  if (value === before.value) return before;
  const up = isUp(before.value, value);
  return {
    ...before,
    value,
    changes: before.changes + 1,
    ups: before.ups + (up ? 1 : 0),
    downs: before.downs + (up ? 0 : 1),
    low: Math.min(before.low, value),
    high: Math.max(before.high, value),
  };
};

export type Direction = 'still' | 'up' | 'down' | 'both ways';

export const directionOf = ({ ups, downs }: Moved): Direction => {
  if (ups + downs === 0) return 'still';
  if (downs === 0) return 'up';
  return ups === 0 ? 'down' : 'both ways';
};

/** Who moved, the most restless first. */
export const ranking = (all: readonly Moved[]): readonly Moved[] =>
  all.filter(({ changes }) => changes > 0).sort((a, b) => b.changes - a.changes || a.address - b.address);
