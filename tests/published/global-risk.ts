/** Producer's and consumer's risk of a population, by JCGM 106:2012, 9.5; the checks' own reference computation. */
import { normalBelow } from '../../src/measure/conformance-normal.ts';
import { type DecisionRule, decide, type Interval } from '../../src/measure/index.ts';

/** Items are normal around `mean`; a measured one is normal around its item. */
export interface Population {
  readonly mean: number;
  readonly between: number;
  readonly measuring: number;
}

export interface Risks {
  /** Conforms, and is rejected. */
  readonly producer: number;
  /** Does not conform, and is accepted. */
  readonly consumer: number;
  /** Share that conforms. */
  readonly conforming: number;
}

const STEPS = 20_000;

/** The result of one measurement, as the interval that a normal shape stands for. */
const resultOf = (value: number, u: number): Interval => ({ low: value - 2 * u, high: value + 2 * u });

/** The values that a rule accepts: its edges, by bisection of what the real decision says. */
export const acceptance = (allowed: Interval, u: number, rule: DecisionRule): Interval => {
  const accepts = (value: number): boolean => decide(resultOf(value, u), allowed, rule).place === 'inside';
  const edge = (inside: number, outside: number): number => {
    let [a, b] = [inside, outside];
    for (let turn = 0; turn < 60; turn += 1) {
      const middle = (a + b) / 2;
      if (accepts(middle)) a = middle;
      else b = middle;
    }
    return a;
  };
  const middle = (allowed.low + allowed.high) / 2;
  const reach = allowed.high - allowed.low;
  return { low: edge(middle, middle - reach), high: edge(middle, middle + reach) };
};

/** Midpoint rule from `from` to `to`. */
const integral = (from: number, to: number, at: (value: number) => number): number => {
  const width = (to - from) / STEPS;
  let sum = 0;
  for (let step = 0; step < STEPS; step += 1) sum += at(from + (step + 0.5) * width) * width;
  return sum;
};

/** Cut at the limits, where the sum would jump; ± 9 standard deviations of the items. */
export const risksOf = (items: Population, allowed: Interval, accepted: Interval): Risks => {
  const share = (value: number): number => {
    const z = (value - items.mean) / items.between;
    return Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI) / items.between;
  };
  const taken = (value: number): number =>
    normalBelow((accepted.high - value) / items.measuring) -
    normalBelow((accepted.low - value) / items.measuring);
  const { low, high } = allowed;
  const reach = 9 * items.between;
  return {
    producer: integral(low, high, (value) => share(value) * (1 - taken(value))),
    consumer:
      integral(items.mean - reach, low, (value) => share(value) * taken(value)) +
      integral(high, items.mean + reach, (value) => share(value) * taken(value)),
    conforming: integral(low, high, share),
  };
};
