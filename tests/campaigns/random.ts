/** Seeded randomness for the campaigns: the same seed draws the same plant on every machine. */

export interface Random {
  /** In [0, 1). */
  readonly next: () => number;
  readonly between: (low: number, high: number) => number;
  readonly chance: (share: number) => boolean;
  readonly pick: <One>(from: readonly One[]) => One;
}

/** Mulberry32, a public-domain mixing function. */
export const seeded = (seed: number): Random => {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  return {
    next,
    between: (low, high) => low + next() * (high - low),
    chance: (share) => next() < share,
    pick: (from) => from[Math.floor(next() * from.length)]!,
  };
};
