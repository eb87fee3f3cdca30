import type { GuidedInterlock } from '../../../../guide/index.ts';
import { keptSignal } from '../../../state/kept.ts';

export type Screen = 'identify' | 'alone' | 'baseline' | 'call' | 'move' | 'attest' | 'verdict';

/** What was looked at on this device: verdicts by interlock, and whether the look at what else moves was passed over. */
const looked = keptSignal<{
  window: string;
  verdicts: Readonly<Record<string, number>>;
  passedOver: readonly string[];
  gaps: number;
}>('tripwitness-looked', { window: '', verdicts: {}, passedOver: [], gaps: 0 });

const lookedIn = (window: string): typeof looked.value =>
  looked.value.window === window ? looked.value : { window, verdicts: {}, passedOver: [], gaps: 0 };

/** Whoever holds this device has seen that many verdicts of the interlock. */
export const sawVerdicts = (window: string, { name, trials }: GuidedInterlock): void => {
  const own = lookedIn(window);
  looked.value = { ...own, verdicts: { ...own.verdicts, [name]: trials.length } };
};

export const passOver = (window: string, name: string): void => {
  const own = lookedIn(window);
  looked.value = { ...own, passedOver: [...own.passedOver, name] };
};

/** So many absences of the daemon were seen on this device. */
export const gapsSeen = (window: string): number => lookedIn(window).gaps;
export const sawGaps = (window: string, gaps: number): void => {
  looked.value = { ...lookedIn(window), gaps };
};

/** It has a verdict that was not looked at on this device. */
export const isUnseen = (window: string, { name, trials }: GuidedInterlock): boolean =>
  trials.length > (lookedIn(window).verdicts[name] ?? 0);

/** The one thing that a device shows of an interlock now. */
export const screenOf = (window: string, one: GuidedInterlock): Screen => {
  const { trial, stage, trials, called, countdown, alone } = one;
  const own = lookedIn(window);
  if (trial > 0) return stage === 'attest' ? 'attest' : 'move';
  const unseen = isUnseen(window, one);
  if (stage === 'done' || (unseen && called === undefined && countdown === undefined)) return 'verdict';
  if (one.identified?.matches !== true) return 'identify';
  if (alone !== undefined && (alone.running || !alone.alone)) return 'alone';
  if (
    alone === undefined &&
    trials.length === 0 &&
    called === undefined &&
    !own.passedOver.includes(one.name)
  )
    return 'alone';
  return stage === 'attest' ? 'move' : stage;
};
