import { formatFixed, formatNumber } from '../../words/index.ts';
import { numbers } from '../text/speech.ts';
import type { PlotModel } from './model.ts';

/** Seconds from one line of the grid to the next. */
const STEPS = [
  0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 1_200, 1_800,
  3_600, 7_200, 14_400, 43_200, 86_400,
] as const;

type Times = Pick<PlotModel, 'zero' | 'times'>;

/** Seconds from the zero of the plot to a whole day here, so that lines of a clock fall on whole minutes. */
const phaseOf = ({ zero, times }: Times): number => {
  if (times === 'elapsed') return 0;
  const day = new Date(zero / 1_000);
  day.setHours(0, 0, 0, 0);
  return day.getTime() / 1_000 - zero / 1e6;
};

/** Where the lines of the grid stand: no more than `most` of them. */
export const splitsOf = (min: number, max: number, most: number, model: Times): number[] => {
  const step = STEPS.find((one) => (max - min) / one <= Math.max(1, most)) ?? max - min;
  const phase = phaseOf(model);
  const first = Math.ceil((min - phase) / step);
  const last = Math.floor((max - phase) / step);
  return Array.from(
    { length: Math.max(0, last - first + 1) },
    (_none, index) => phase + (first + index) * step,
  );
};

const two = (value: number): string => String(value).padStart(2, '0');

const decimalsFor = (step: number): number => {
  if (step >= 1) return 0;
  if (step >= 0.1) return 1;
  return step >= 0.01 ? 2 : 3;
};

/** Of a span of seconds, as texts for its ticks. */
export const timeTexts = (splits: readonly number[], { zero, times }: Times): string[] => {
  const decimals = decimalsFor((splits[1] ?? 1) - (splits[0] ?? 0) + 1e-9);
  if (times === 'elapsed') return splits.map((t) => `${formatFixed(t, decimals, numbers())} s`);
  return splits.map((t) => {
    const at = new Date(zero / 1_000 + Math.round(t * 1_000));
    const whole = `${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())}`;
    return decimals === 0
      ? whole
      : `${whole}.${String(at.getMilliseconds()).padStart(3, '0').slice(0, decimals)}`;
  });
};

/** Figures of a scale, without the noise of their sums. */
export const valueTexts = (splits: readonly number[]): string[] =>
  splits.map((value) => formatNumber(Math.round(value * 1e6) / 1e6, numbers()));
