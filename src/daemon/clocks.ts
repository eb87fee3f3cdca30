import type { ClockNow, SourceClockNow } from '../api/index.ts';
import type { Mark } from '../judge/index.ts';
import { formatUtc, type Interval, SECOND } from '../measure/index.ts';
import type { EntryKind } from '../record/index.ts';
import type { ClockKnown } from '../signal/index.ts';
import type { Clock, ClockEvent } from './clock.ts';

/** What is done about clocks: entered, told, and marked in an open window. */
export interface ClockHands {
  readonly enter: (kind: EntryKind, subject: string, body: object) => void;
  readonly tell: (level: 'info' | 'warn', text: string, about: object) => void;
  readonly mark: (mark: Mark) => void;
}

/** Follows our clock and those of the sources; enters what is news, and no more. */
export interface Clocks {
  /** What is known of a source's clock, after it was asked. */
  source(name: string, known: ClockKnown): void;
  /** To be called regularly. */
  look(): void;
  own(): ClockNow;
}

/** A clock that moves by less, or is set again so soon, is no news. */
const NEWS = 0.05; // s
const AGAIN = 60 * SECOND;
/** Our clock against the machine's UTC is told again when they have drifted so far. */
const DRIFTED = 0.5; // s

const seconds = ({ low, high }: Interval): Interval => ({ low: low / SECOND, high: high / SECOND });
const middle = ({ low, high }: Interval): number => (low + high) / 2;

export const sourceClockNow = (known: ClockKnown): SourceClockNow => ({
  offset: seconds(known.offset),
  since: formatUtc(known.since),
  samples: known.samples,
  ...(known.declaredBound !== undefined && { declaredBound: known.declaredBound / SECOND }),
  contradicts: known.contradicts,
});

/** What was last entered of a source's clock. */
interface Entered {
  readonly offset: Interval;
  readonly steps: number;
  readonly contradicts: boolean;
  readonly set: number;
}

type What = 'known' | 'moved' | 'set' | 'contradicts';

/** The offset lies elsewhere than it was entered, beyond what either leaves open. */
const hasMoved = (before: Interval, now: Interval): boolean => {
  const doubt = (before.high - before.low + now.high - now.low) / 2;
  return Math.abs(middle(now) - middle(before)) > Math.max(NEWS, doubt);
};

const newsOf = (before: Entered | undefined, known: ClockKnown): What | undefined => {
  if (before === undefined) return known.contradicts ? 'contradicts' : 'known';
  if (known.steps > before.steps && known.last - before.set >= AGAIN) return 'set';
  if (known.contradicts && !before.contradicts) return 'contradicts';
  return known.steps === before.steps && hasMoved(before.offset, seconds(known.offset)) ? 'moved' : undefined;
};

const textOf = (name: string, what: What, known: ClockKnown): string => {
  const { low, high } = seconds(known.offset);
  const ahead = `${low.toFixed(3)} to ${high.toFixed(3)} s ahead of ours`;
  switch (what) {
    case 'known':
      return `${name}: its clock is ${ahead}`;
    case 'moved':
      return `${name}: its clock has moved, and is ${ahead}`;
    case 'set':
      return `${name}: its clock was set, and is ${ahead}`;
    default:
      return `${name}: its clock is ${ahead}, which is not what "clock-bound" says; both are allowed for`;
  }
};

export const createClocks = (clock: Clock, { enter, tell, mark }: ClockHands): Clocks => {
  const entered = new Map<string, Entered>();
  let drift = 0;

  const heed = (event: ClockEvent): void => {
    const { at } = event;
    if (event.kind === 'stepped') {
      const { by } = event;
      enter('clock-stepped', '', { by });
      tell('warn', `the machine's clock was set by ${(by / SECOND).toFixed(3)} s; ours goes on`, { by });
      mark({ code: 'clock-stepped', at, by });
      return;
    }
    const { from } = event;
    enter('clock', '', { what: 'away', from: formatUtc(from), to: formatUtc(at) });
    tell(
      'warn',
      `nothing ran for ${((at - from) / SECOND).toFixed(1)} s: the machine slept, or stood still`,
      {
        from: formatUtc(from),
      },
    );
    mark({ code: 'interrupted', at, from });
  };

  const own = (): ClockNow => {
    const rate = clock.rate();
    return {
      ahead: clock.ahead() / SECOND,
      ...(rate && { rate: { ppm: rate.ppm, doubt: rate.doubt } }),
    };
  };

  /** Without steps, which are told by themselves. */
  const lookAtRate = (): void => {
    const rate = clock.rate();
    if (rate === undefined || Math.abs(rate.away / SECOND - drift) < DRIFTED) return;
    drift = rate.away / SECOND;
    enter('clock', '', { what: 'rate', ppm: rate.ppm, doubt: rate.doubt, away: drift });
  };

  return {
    source(name, known) {
      const before = entered.get(name);
      const what = newsOf(before, known);
      if (what === undefined) {
        if (before !== undefined && before.contradicts !== known.contradicts && !known.contradicts)
          entered.set(name, { ...before, contradicts: false });
        return;
      }
      const set = what === 'set' ? known.last : (before?.set ?? Number.NEGATIVE_INFINITY);
      const { steps, contradicts, stepped } = known;
      entered.set(name, { offset: seconds(known.offset), steps, contradicts, set });
      const by = what === 'set' ? { by: stepped / SECOND, times: steps - (before?.steps ?? 0) } : {};
      enter('clock', name, { what, ...sourceClockNow(known), ...by });
      tell(what === 'known' || what === 'moved' ? 'info' : 'warn', textOf(name, what, known), {});
    },
    look() {
      for (const event of clock.look()) heed(event);
      lookAtRate();
    },
    own,
  };
};
