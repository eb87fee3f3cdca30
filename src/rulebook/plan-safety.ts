import { lessThan, type Reason, SECOND } from '../measure/index.ts';
import { causeRoots } from './cause-signals.ts';
import { beforeOf } from './plan-hold.ts';
import type { View } from './plan-view.ts';
import type { Effect } from './types.ts';

/**
 * Rule of thumb: sensor, logic and final element together take at most half of the process safety time. From a
 * secondary source (a design template for safety functions); the standards themselves only ask for less than the whole.
 */
const HALF = 0.5;

/** What takes the danger away: a stop, a shaft that stands. To run is none; an alarm only where there is nothing else. */
const protecting = ({ interlock, machine }: View): readonly Effect[] => {
  const running = [...(machine?.running ?? []), ...(machine?.feedbacks ?? [])];
  const moving = interlock.effects.filter(
    ({ becomes, signal }) =>
      becomes.kind === 'level' ||
      (becomes.kind === 'state' &&
        !running.some((one) => one.signal === signal && one.state === becomes.state)),
  );
  const acting = moving.filter((effect) => effect.class !== 'alarm');
  return acting.length > 0 ? acting : moving;
};

/** The declared age of what the cause rests on: the logic learns of the deviation so much later. Seconds. */
const ageOf = ({ book, interlock }: View): number => {
  const roots = causeRoots(book, interlock.cause);
  const ages = book.signals.filter(({ id }) => roots.has(id)).map(({ age }) => age / SECOND);
  return Math.max(...ages, 0);
};

interface Spent {
  readonly effect: string;
  /** All of it, what the slowest effect may use of it, and what then is left; seconds, below zero where it is too late. */
  readonly safety: number;
  readonly uses: number;
  readonly left: number;
  readonly byHalf: number;
}

/** How the process safety time is spent: until the cause counts, by the age of its readings, and by the slowest effect. */
const spentOf = (view: View): Spent | undefined => {
  const { processSafetyTime, cause } = view.interlock;
  const [first, ...others] = protecting(view);
  if (processSafetyTime === undefined || first === undefined) return undefined;
  const slowest = others.reduce((most, effect) => (effect.within > most.within ? effect : most), first);
  const safety = processSafetyTime / SECOND;
  const uses = (beforeOf(cause) ?? 0) + ageOf(view) + slowest.within / SECOND;
  return { effect: slowest.name, safety, uses, left: safety - uses, byHalf: HALF * safety - uses };
};

/** An effect in good time by its own deadline may still come after the harm. */
export const safetyReasons = (view: View): readonly Reason[] => {
  const spent = spentOf(view);
  if (spent === undefined || !lessThan(spent.left, 0)) return [];
  const { effect, safety, uses, left } = spent;
  return [{ code: 'beyond-process-safety-time', params: { effect, safety, uses, over: -left } }];
};

/** It comes before the harm, with less to spare than is usual. */
export const safetyNotes = (view: View): readonly Reason[] => {
  const spent = spentOf(view);
  if (spent === undefined || lessThan(spent.left, 0) || !lessThan(spent.byHalf, 0)) return [];
  const { effect, safety, uses, left, byHalf } = spent;
  return [{ code: 'half-process-safety-time', params: { effect, safety, uses, left, byHalf } }];
};
