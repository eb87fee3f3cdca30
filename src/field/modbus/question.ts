import { MILLISECOND } from '../../measure/index.ts';
import { frameSilence, isBits, type Line } from '../../signal/index.ts';
import type { Understood } from './library.ts';
import type { Question } from './link-types.ts';

/** Silence between frames, ms. Behind a converter the baud rate is not known: that of 9,600 is waited for, in which a surplus answer shows itself. */
export const gapOf = (line: Line): number => {
  if (line.kind === 'tcp') return 0;
  return frameSilence(line.kind === 'serial' ? line.baud : 9_600) / MILLISECOND;
};

/** A question whose answer is shorter, where the values allow one. */
export const shorter = ({ table, count }: Question): number => {
  const step = isBits(table) ? 8 : 1;
  return count > step ? count - step : count;
};

/** Exactly as many as were asked for; bits lose their padding. Undefined where it is anything else. */
export const wordsOf = (understood: Understood, { table, count }: Question): number[] | undefined => {
  if (!('data' in understood)) return undefined;
  const { data } = understood;
  if (!isBits(table)) return data.length === count ? (data as number[]) : undefined;
  return data.length < count ? undefined : data.slice(0, count).map(Number);
};
