import { type Instant, SECOND } from '../../measure/index.ts';

/** So many at once, and one more after each pause: what anybody can cause from outside must not fill the log. */
const AT_ONCE = 20;
const PAUSE = 60 * SECOND;

export interface Bounded {
  /** How many were left out since the last that was let through; undefined: this one is left out too. */
  admit(at: Instant): number | undefined;
  /** How many were left out and not told yet. */
  left(): number;
}

export const createBounded = (): Bounded => {
  let [tokens, filled, left] = [AT_ONCE, undefined as Instant | undefined, 0];
  return {
    admit(at) {
      const grown = filled === undefined ? 0 : Math.floor(Math.max(0, at - filled) / PAUSE);
      tokens = Math.min(AT_ONCE, tokens + grown);
      filled = filled === undefined || tokens === AT_ONCE ? at : ((filled + grown * PAUSE) as Instant);
      if (tokens === 0) {
        left += 1;
        return undefined;
      }
      tokens -= 1;
      const before = left;
      left = 0;
      return before;
    },
    left: () => left,
  };
};
