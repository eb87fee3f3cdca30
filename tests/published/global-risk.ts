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

const STEPS = 200_000;

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

/** Midpoint rule over ± 8 standard deviations of the items. */
export const risksOf = (items: Population, allowed: Interval, accepted: Interval): Risks => {
  const width = (16 * items.between) / STEPS;
  let [producer, consumer, conforming] = [0, 0, 0];
  for (let step = 0; step < STEPS; step += 1) {
    const value = items.mean - 8 * items.between + (step + 0.5) * width;
    const z = (value - items.mean) / items.between;
    const share = (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI) / items.between) * width;
    const taken =
      normalBelow((accepted.high - value) / items.measuring) -
      normalBelow((accepted.low - value) / items.measuring);
    const good = value >= allowed.low && value <= allowed.high;
    if (good) {
      conforming += share;
      producer += share * (1 - taken);
    } else consumer += share * taken;
  }
  return { producer, consumer, conforming };
};
