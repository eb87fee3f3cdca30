import type { SignalNow, SignalShown } from '../../api/index.ts';
import { formatNumber, formatSeconds } from '../../words/index.ts';
import { boundsText } from './quantity.ts';
import { absenceText, say } from './say.ts';
import { numbers } from './speech.ts';

/** What a signal reads now: its state, its bounds in the unit that is shown, or why there is nothing. */
export const valueText = (reads: SignalNow | undefined, signal: SignalShown | undefined): string => {
  if (reads === undefined) return '–';
  if (reads.absent !== undefined) return `${say('now', 'no-value')}: ${absenceText(reads.absent)}`;
  if (reads.state !== undefined) return reads.state;
  return boundsText(reads.low ?? Number.NaN, reads.high ?? Number.NaN, signal);
};

/** Age to a tenth of a second while it is young. */
export const ageText = (age: number | undefined): string => {
  if (age === undefined) return '–';
  return age < 10
    ? `${formatNumber(Math.round(age * 10) / 10, numbers())} s`
    : formatSeconds(Math.round(age), numbers());
};
