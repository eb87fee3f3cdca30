import { expOfNegative, ln } from './elementary.ts';

/** A rising function of the temperature in degC, from `low` to `high`. */
export interface Rising {
  readonly low: number;
  readonly high: number;
  readonly at: (t: number) => number;
  /** The function at `KNOTS` + 1 places, evenly spread, so that a search begins close by. */
  readonly knots: readonly number[];
}

const KNOTS = 128;

const rising = (low: number, high: number, at: (t: number) => number): Rising => ({
  low,
  high,
  at,
  knots: Array.from({ length: KNOTS + 1 }, (_, knot) => at(low + ((high - low) * knot) / KNOTS)),
});

/** Coefficients by rising power. */
const polynomial = (coefficients: readonly number[], x: number): number => {
  let sum = 0;
  for (let power = coefficients.length - 1; power >= 0; power -= 1) {
    sum = sum * x + (coefficients[power] ?? 0);
  }
  return sum;
};

/** IEC 60751: R / R0 = 1 + A t + B t² + C (t − 100) t³, the last term below 0 degC only. */
const A = 3.9083e-3;
const B = -5.775e-7;
const C = -4.183e-12;
const CUBIC_BELOW_ZERO = [1, A, B, -100 * C, C];

export const PLATINUM: Rising = rising(-200, 850, (t) =>
  t < 0 ? polynomial(CUBIC_BELOW_ZERO, t) : 1 + t * (A + B * t),
);

/** NIST ITS-90 reference functions (Monograph 175, type_k.tab and type_j.tab): mV with the other junction at 0 degC. */
const K_BELOW_ZERO = [
  0, 0.39450128025e-1, 0.23622373598e-4, -0.32858906784e-6, -0.49904828777e-8, -0.67509059173e-10,
  -0.57410327428e-12, -0.31088872894e-14, -0.10451609365e-16, -0.19889266878e-19, -0.16322697486e-22,
];
const K_ABOVE_ZERO = [
  -0.17600413686e-1, 0.38921204975e-1, 0.18558770032e-4, -0.99457592874e-7, 0.31840945719e-9,
  -0.56072844889e-12, 0.56075059059e-15, -0.32020720003e-18, 0.97151147152e-22, -0.12104721275e-25,
];
/** Magnetic ordering: a₀ exp(a₁ (t − a₂)²). */
const K_HUMP = { size: 0.1185976, width: -0.1183432e-3, middle: 126.9686 };
const J_BELOW_760 = [
  0, 0.50381187815e-1, 0.3047583693e-4, -0.8568106572e-7, 0.13228195295e-9, -0.17052958337e-12,
  0.20948090697e-15, -0.12538395336e-18, 0.15631725697e-22,
];
const J_ABOVE_760 = [
  0.29645625681e3, -0.14976127786e1, 0.31787103924e-2, -0.31847686701e-5, 0.15720819004e-8,
  -0.30691369056e-12,
];

const kMillivolts = (t: number): number => {
  if (t < 0) return polynomial(K_BELOW_ZERO, t);
  const off = t - K_HUMP.middle;
  return polynomial(K_ABOVE_ZERO, t) + K_HUMP.size * expOfNegative(K_HUMP.width * off * off);
};

const jMillivolts = (t: number): number => polynomial(t < 760 ? J_BELOW_760 : J_ABOVE_760, t);

/** Below −200 degC type K is defined too, but so flat that a microvolt is a kelvin: no machine is that cold. */
export const THERMOCOUPLES: Readonly<Record<'K' | 'J', Rising>> = {
  K: rising(-200, 1372, kMillivolts),
  J: rising(-210, 1200, jMillivolts),
};

/** Steinhart and Hart: degC for ohms; falling. NaN where there is no temperature. */
export const thermistorTemperature = (
  { a, b, c }: { readonly a: number; readonly b: number; readonly c: number },
  ohms: number,
): number => {
  const log = ln(ohms);
  const inverse = a + log * (b + c * log * log);
  return inverse > 0 ? 1 / inverse - 273.15 : Number.NaN;
};

/** Kelvin that a curve adds to each side for its own arithmetic: far more than rounding, far less than anybody reads. */
export const WITHIN = 1e-9;

/** The last knot at which the function is not above a value. */
const knotBelow = (knots: readonly number[], wanted: number): number => {
  let [from, to] = [0, KNOTS];
  while (to - from > 1) {
    const middle = (from + to) >> 1;
    if ((knots[middle] ?? wanted) <= wanted) from = middle;
    else to = middle;
  }
  return from;
};

/** Secants on a bracket that keeps the root, one end halved where it does not move (Illinois). */
const nearRoot = ({ at, low, high, knots }: Rising, wanted: number): number => {
  const knot = knotBelow(knots, wanted);
  const apart = (high - low) / KNOTS;
  let [left, right] = [low + apart * knot, low + apart * (knot + 1)];
  let [below, above] = [(knots[knot] ?? 0) - wanted, (knots[knot + 1] ?? 0) - wanted];
  let kept = 0;
  for (let round = 0; round < 60; round += 1) {
    const next = right - (above * (right - left)) / (above - below);
    const off = at(next) - wanted;
    if (off === 0 || next <= left || next >= right) return Math.min(Math.max(next, left), right);
    if (off < 0) {
      if (next - left < WITHIN / 4) return next;
      [left, below] = [next, off];
      if (kept < 0) above /= 2;
      kept = -1;
    } else {
      if (right - next < WITHIN / 4) return next;
      [right, above] = [next, off];
      if (kept > 0) below /= 2;
      kept = 1;
    }
  }
  return (left + right) / 2;
};

/**
 * Where a rising function takes a value, with the doubt of the search: both ends are tried, and moved until the
 * function lies on either side. Undefined where the value is outside what the function can take.
 */
export const inverted = (
  curve: Rising,
  wanted: number,
): { readonly low: number; readonly high: number } | undefined => {
  if (!(wanted >= curve.at(curve.low) && wanted <= curve.at(curve.high))) return undefined;
  const near = nearRoot(curve, wanted);
  let wide = WITHIN;
  while (wide < 1 && (curve.at(near - wide) > wanted || curve.at(near + wide) < wanted)) wide *= 2;
  return { low: near - wide, high: near + wide };
};
