const TERMS = 80;
const TAIL = 3;

/** Density of the standard normal distribution. */
const density = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

/** 1 − Φ(z) for z ≥ 3: the continued fraction 26.2.14, from its last term to the first. */
const tail = (z: number): number => {
  let rest = z;
  for (let term = TERMS; term >= 1; term -= 1) rest = z + term / rest;
  return density(z) / rest;
};

/**
 * Φ(z), the share of a standard normal distribution below z; absolute error under 1e-12.
 * Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.2.11 (series) and 26.2.14 (tail).
 */
export const normalBelow = (z: number): number => {
  if (z <= -TAIL) return tail(-z);
  if (z >= TAIL) return 1 - tail(z);
  let term = z;
  let sum = z;
  for (let odd = 3; odd < 2 * TERMS; odd += 2) {
    term *= (z * z) / odd;
    sum += term;
  }
  return 0.5 + density(z) * sum;
};
