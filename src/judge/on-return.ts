import { atMost, type Interval, lessThan, SECOND } from '../measure/index.ts';
import type { Interlock } from '../rulebook/index.ts';
import { aspect, delayBand, seconds } from './aspect.ts';
import type { Edges } from './levels.ts';
import { type Region, resettingRegion } from './region.ts';
import { accumulatingRegion } from './region-accumulating.ts';
import type { Rows } from './rows.ts';
import type { Gap } from './track.ts';
import type { Aspect } from './types.ts';

/** What of a trial the way with a return is told from. */
export interface Returning {
  readonly interlock: Interlock;
  readonly edges?: Edges;
  readonly quietBelow: number;
  readonly clearSince: number | undefined;
  readonly leftAfter: number;
}

/** What was seen of a trial whose cause came back before the interlock acted, or although it did not act. */
export interface Returned {
  readonly rows: Rows;
  /** Gaps longer than the signal may go without news; and all of them. */
  readonly gaps: readonly Gap[];
  readonly silences: readonly Gap[];
  readonly from: number;
  readonly until: number;
  readonly changed: { readonly after: number; readonly by: number } | undefined;
}

/** Some level and delay, both as declared, explain what was seen. */
const explains = (region: Region, edges: Pick<Edges, 'inner' | 'outer'>, band: Interval): boolean => {
  for (let cell = 0; cell < region.low.length; cell += 1) {
    const first = cell * region.width;
    if (first > band.high || first + region.width < band.low) continue;
    const low = Math.max(region.low[cell] ?? 0, edges.outer.low);
    const high = Math.min(region.high[cell] ?? 0, edges.inner.high);
    if (atMost(low, high)) return true;
  }
  return false;
};

/** A contact's one level lies between its two states. */
const BETWEEN_STATES = { inner: { low: 0, high: 0 }, outer: { low: 0, high: 0 } };

/**
 * It acted, and its cause had not lasted for as long as the delay: it had gone before. Whatever the level is, this is
 * not a delay that begins anew.
 */
export const cutShortAspect = (trial: Returning, changed: { readonly after: number }): Aspect[] => {
  const band = delayBand(trial.interlock);
  const { clearSince, leftAfter } = trial;
  if (band === undefined || trial.interlock.delay?.onReturn !== 'resets' || clearSince === undefined)
    return [];
  const lasted = clearSince - leftAfter;
  if (clearSince > changed.after || !lessThan(lasted, band.low)) return [];
  return [
    aspect('on-return', 'fail', 'acted-after-return', { lasted: lasted / SECOND, delay: seconds(band) }),
  ];
};

/**
 * Whether the delay begins anew when the cause comes back for a moment, or adds up. Told only where the trial can tell:
 * the cause came back, and only one of the two explains when the interlock acted, with level and delay as declared.
 */
export const onReturnAspect = (trial: Returning, seen: Returned): Aspect[] => {
  const { interlock } = trial;
  const edges = interlock.cause.kind === 'contact' ? BETWEEN_STATES : trial.edges;
  const band = delayBand(interlock);
  if (interlock.delay === undefined || band === undefined || edges === undefined) return [];
  const { delay } = interlock;
  const { onReturn } = delay;
  const resets = explains(
    resettingRegion(delay, seen.rows, seen.gaps, seen.from, seen.changed, seen.until, trial.quietBelow),
    edges,
    band,
  );
  const adds = explains(
    accumulatingRegion(delay, seen.rows, seen.silences, seen.from, seen.changed, seen.until),
    edges,
    band,
  );
  if (resets === adds) return [];
  const found = resets ? 'resets' : 'accumulates';
  return [
    found === onReturn
      ? aspect('on-return', 'pass', 'on-return-as-declared', { found })
      : aspect('on-return', 'fail', 'on-return-otherwise', { found, declared: onReturn }),
  ];
};
