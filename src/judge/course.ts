import { lessThan, SECOND } from '../measure/index.ts';
import type { Interlock } from '../rulebook/index.ts';
import type { Edges } from './levels.ts';
import type { Row } from './rows.ts';
import type { Course } from './types.ts';

/** What the course of a trial is told from. */
export interface Moved {
  readonly interlock: Interlock;
  readonly edges?: Edges;
  readonly clearUntil: number;
  readonly reached?: { readonly step: boolean };
}

/** A value that moves by less than this share of the band is held. */
const HOLDS = 0.25;

const middle = (row: Row): number => (row.low + row.high) / 2;

/** The last rows that stay together within `width`. */
const tail = (rows: readonly Row[], width: number): readonly Row[] => {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let index = rows.length;
  while (index > 0) {
    const row = rows[index - 1];
    if (row === undefined) break;
    low = Math.min(low, middle(row));
    high = Math.max(high, middle(row));
    if (high - low > width) break;
    index -= 1;
  }
  return rows.slice(index);
};

/** Of the rows (turned), from where the cause left its clear band to `until`. */
export const courseOf = (trial: Moved, rows: readonly Row[], until: number): Course | undefined => {
  const { edges, reached } = trial;
  const away = rows.filter((row) => row.latest > trial.clearUntil);
  const moved = away.filter((row) => row.earliest <= until);
  const [first] = moved;
  if (edges === undefined || first === undefined) return undefined;
  // The reading after it tells where the value may have gone meanwhile.
  const seen = away.slice(0, moved.length + 1);
  const inside = seen.every((row) => lessThan(edges.inner.high, row.low));
  const held = inside ? moved.filter((row) => lessThan(row.high, edges.clear.low)) : moved;
  const together = tail(held, HOLDS * (edges.inner.high - edges.outer.low));
  const start = together[0];
  const end = together.at(-1);
  const seconds = start === undefined || end === undefined ? 0 : (end.earliest - start.latest) / SECOND;
  const hull = {
    low: Math.min(...together.map(({ low }) => low)),
    high: Math.max(...together.map(({ high }) => high)),
  };
  const rest = { held: hull, seconds, inside };
  if (inside) return seconds > 0 ? { kind: 'hold', ...rest } : undefined;
  if (reached?.step === true) return { kind: 'step', ...rest };
  const least = trial.interlock.delay?.time ?? SECOND;
  if (seconds * SECOND >= Math.max(least / 2, SECOND)) return { kind: 'hold', ...rest };
  const last = moved.at(-1) ?? first;
  const span = (last.latest - first.latest) / SECOND;
  return span > 0
    ? { kind: 'ramp', rate: (middle(first) - middle(last)) / span, inside }
    : { kind: 'step', ...rest };
};
