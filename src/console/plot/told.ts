import { formatFixed } from '../../words/index.ts';
import { boundsText } from '../text/quantity.ts';
import { absenceText, say } from '../text/say.ts';
import { numbers } from '../text/speech.ts';
import { clockText, utcOf } from '../text/time.ts';
import { isState, type PlotModel, type PlotSignal } from './model.ts';
import type { PlotState } from './state.ts';
import { type ValueAt, valueAt } from './value-at.ts';

/** A figure of seconds to a thousandth. */
export const secondsText = (t: number): string => `${formatFixed(t, 3, numbers())} s`;

/** An instant as the axis tells it, to a thousandth of a second. */
export const instantText = ({ zero, times }: PlotModel, t: number): string => {
  if (times === 'elapsed') return secondsText(t);
  const utc = utcOf(zero + Math.round(t * 1e6));
  const [clock = '', offset = ''] = clockText(utc).split(' ');
  return `${clock}${numbers().decimal}${utc.slice(20, 23)} ${offset}`;
};

/** A state by its name, or by its number where it has none. */
export const stateName = ({ shown }: PlotSignal, state: number): string =>
  shown?.states[state] ?? String(state);

const statesText = (signal: PlotSignal, low: number, high: number): string =>
  low === high ? stateName(signal, low) : `${stateName(signal, low)} / ${stateName(signal, high)}`;

/** What a signal was, in words: its bounds, its state, or why nothing is known. */
export const valueWords = (signal: PlotSignal, value: ValueAt): string => {
  if (value.is === 'nothing') return '–';
  if (value.is === 'absent') return absenceText(value.why);
  return isState(signal)
    ? statesText(signal, value.low, value.high)
    : boundsText(value.low, value.high, signal.shown);
};

/** Where the cursor stands, or the newest that there is. */
export const instantOf = ({ cursor, shown }: PlotState): number => cursor.value ?? shown.to;

export const valueNow = (signal: PlotSignal, state: PlotState): string =>
  valueWords(signal, valueAt(signal.series, instantOf(state)));

/** All of it as one sentence, for whoever hears it. */
export const cursorWords = (model: PlotModel, state: PlotState): string => {
  const at = instantText(model, instantOf(state));
  const values = model.signals.slice(0, 6).map((one) => `${one.name} ${valueNow(one, state)}`);
  return say('plot', 'cursor-at', { at, values: values.join('; ') });
};
