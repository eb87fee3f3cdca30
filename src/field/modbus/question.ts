import type { Line } from '../../signal/index.ts';
import type { Understood } from './library.ts';
import type { Question } from './link-types.ts';

/** Silence between frames in ms: 3.5 characters of 11 bits, above 19,200 baud 1.75 ms (Serial Line V1.02, 2.5.1.1). */
export const frameGap = (baud: number): number => (baud > 19_200 ? 1.75 : (3.5 * 11 * 1_000) / baud);

/** Behind a converter the baud rate is not known: that of 9,600 is waited for, in which a surplus answer shows itself. */
export const gapOf = (line: Line): number => {
  if (line.kind === 'tcp') return 0;
  return frameGap(line.kind === 'serial' ? line.baud : 9_600);
};

/** A question whose answer is shorter, where the values allow one. */
export const shorter = ({ table, count }: Question): number => {
  const bits = table === 'coil' || table === 'discrete-input';
  const step = bits ? 8 : 1;
  return count > step ? count - step : count;
};

/** Exactly as many as were asked for; bits lose their padding. Undefined where it is anything else. */
export const wordsOf = (understood: Understood, { table, count }: Question): number[] | undefined => {
  if (!('data' in understood)) return undefined;
  const { data } = understood;
  const bits = table === 'coil' || table === 'discrete-input';
  if (!bits) return data.length === count ? (data as number[]) : undefined;
  return data.length < count ? undefined : data.slice(0, count).map(Number);
};
