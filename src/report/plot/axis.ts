/** A straight map from values to places on paper. */
export interface Axis {
  readonly from: number;
  readonly to: number;
  readonly at: (value: number) => number;
  readonly ticks: readonly number[];
  readonly tickText: (value: number) => string;
}

const STEPS = [1, 2, 5] as const;

/** The roundest step that gives no more than `most` ticks. */
const stepFor = (span: number, most: number): { readonly step: number; readonly decimals: number } => {
  let scale = 1;
  let decimals = 0;
  while (span / scale > most * 5 && scale < 1e12) scale *= 10;
  while (span / scale < most / 10 && decimals < 6) {
    scale /= 10;
    decimals += 1;
  }
  for (;;) {
    for (const one of STEPS) if (span / (one * scale) <= most) return { step: one * scale, decimals };
    scale *= 10;
    decimals = Math.max(0, decimals - 1);
  }
};

/** `from` … `to` drawn over `start` … `end`. Equal bounds are widened so that there is something to draw. */
export const axisOf = (from: number, to: number, start: number, end: number, most: number): Axis => {
  const span = to > from ? to - from : 1;
  const { step, decimals } = stepFor(span, most);
  const first = Math.ceil(from / step - 1e-9);
  const count = Math.max(0, Math.floor((from + span) / step + 1e-9) - first + 1);
  return {
    from,
    to: from + span,
    at: (value) => start + ((value - from) / span) * (end - start),
    ticks: Array.from({ length: Math.min(count, 50) }, (_, index) => (first + index) * step),
    tickText: (value) => {
      const text = value.toFixed(decimals);
      return Number(text) === 0 ? text.replace('-', '') : text;
    },
  };
};

/** Moves labels apart that would lie on each other; keeps their order. */
export const spread = (places: readonly number[], least: number, top: number, bottom: number): number[] => {
  const order = places.map((place, index) => ({ place, index })).sort((a, b) => a.place - b.place);
  let previous = top - least;
  for (const one of order) {
    one.place = Math.max(one.place, previous + least);
    previous = one.place;
  }
  let limit = bottom + least;
  for (const one of order.toReversed()) {
    one.place = Math.min(one.place, limit - least);
    limit = one.place;
  }
  const moved = [...places];
  for (const { place, index } of order) moved[index] = place;
  return moved;
};
