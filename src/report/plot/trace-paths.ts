import type { Absence } from '../../measure/index.ts';
import type { Point } from '../types.ts';

/** Points without a gap between them. */
export type Stretch = readonly { readonly t: number; readonly low: number; readonly high: number }[];

export interface Gap {
  readonly from: number;
  readonly to: number;
  readonly why: Absence;
}

/** Values cut at the gaps, and the gaps, each as long as nothing is known. */
export const stretchesOf = (
  points: readonly Point[],
  end: number,
): { readonly stretches: readonly Stretch[]; readonly gaps: readonly Gap[] } => {
  const stretches: Stretch[] = [];
  const gaps: Gap[] = [];
  let open: { t: number; low: number; high: number }[] = [];
  points.forEach((point, index) => {
    if (!('gap' in point)) {
      open.push(point);
      return;
    }
    const before = open.at(-1)?.t ?? point.t;
    if (open.length > 0) stretches.push(open);
    open = [];
    const next = points.slice(index + 1).find((one) => !('gap' in one));
    const last = gaps.at(-1);
    const to = next?.t ?? end;
    if (last === undefined || last.to < point.t) gaps.push({ from: before, to, why: point.gap });
  });
  if (open.length > 0) stretches.push(open);
  return { stretches, gaps };
};

/** A state from `from` (first seen) to `to` (last seen); between two of them lies the doubt of the change. */
export interface Stay {
  readonly from: number;
  readonly to: number;
  readonly low: number;
  readonly high: number;
}

/** Steps of a state as spans in which it was seen unchanged. */
export const staysOf = (stretch: Stretch): readonly Stay[] => {
  const stays: Stay[] = [];
  for (const { t, low, high } of stretch) {
    const last = stays.at(-1);
    if (last !== undefined && last.low === low && last.high === high)
      stays[stays.length - 1] = { ...last, to: t };
    else stays.push({ from: t, to: t, low, high });
  }
  return stays;
};
