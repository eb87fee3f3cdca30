import type { Method } from '../judge/index.ts';
import { type Interval, MILLISECOND, type Micros, SECOND, type SignalId } from '../measure/index.ts';
import { type Book, type Cause, type Interlock, type Level, levelAt } from '../rulebook/index.ts';
import { drive, healthyValue, type Shift } from './drive.ts';
import { referencesOf } from './healthy.ts';
import type { Cover, Move } from './types.ts';
import { type Rest, worldOf } from './world.ts';

/** How the rehearsed controller really is. All zero: as the rule says. */
export interface Truth {
  /** Set point further along the way of the cause, in tolerances. */
  readonly level: number;
  /** Longer delay. */
  readonly delay: Micros;
  /** How long the cause stays after the decision. */
  readonly hold: Micros;
  /** The cause turns back before it reaches its set point. */
  readonly short: boolean;
}

/** The cause moves, the controller decides, the cause goes away. */
export interface Bout {
  readonly begins: Micros;
  readonly shifts: readonly Shift[];
  /** The cause reaches the level, state or time that the controller takes as its cause. */
  readonly reached: Micros;
  readonly acts: Micros;
  readonly clears: Micros;
}

export type MakeBout = (begins: Micros, truth: Truth) => Bout;

export interface Stimulus {
  readonly method: Method;
  /** Excursions that together decide all that the rule says. */
  readonly bouts: readonly MakeBout[];
}

interface Context {
  readonly book: Book;
  readonly interlock: Interlock;
  readonly rest: Rest;
}

/** The controller sees its cause and acts; common practice, no source. */
const REACTION: Micros = 20 * MILLISECOND;

const delayOf = (interlock: Interlock, truth: Truth): Micros =>
  Math.max(0, (interlock.delay?.time ?? 0) + truth.delay);

const middle = (interval: Interval | undefined): number | undefined =>
  interval && (interval.low + interval.high) / 2;

const METHODS: Readonly<Record<string, Method>> = {
  temperature: 'heated',
  'rotational-speed': 'injected',
  'belt-speed': 'injected',
  'pulse-rate': 'injected',
};

const methodOf = (context: Context, cause: Cause): Method => {
  if (cause.kind === 'contact') return 'displaced';
  if (cause.kind === 'no-pulses') return 'blocked';
  return METHODS[context.book.signals[cause.signal]?.quantity ?? ''] ?? 'real';
};

interface Way {
  readonly from: number;
  /** Sign of the cause's way. */
  readonly dir: 1 | -1;
  readonly setPoint: number;
  readonly tolerance: number;
}

const wayOf = (context: Context, cause: Cause & { kind: 'level' }): Way | undefined => {
  const refs = referencesOf(context.book, cause.signal);
  const at = (level: Level): number | undefined => middle(levelAt(level, refs));
  const setPoint = at(cause.setPoint);
  const tolerance = at(cause.tolerance);
  if (setPoint === undefined || tolerance === undefined || tolerance <= 0) return undefined;
  const from = healthyValue(context.book, context.rest, cause.signal);
  return { from, dir: cause.side === 'below' ? -1 : 1, setPoint, tolerance };
};

/** Tolerances before the set point where the ramp begins, behind it where it ends, and where the step goes. */
const BEFORE = 4;
const BEHIND = 4.5;
const STEP = 8;
/**
 * Tolerances a second: little doubt at fine polling. Without a delay of its own an interlock may react for as long as
 * its first effect is allowed to take; the ramp moves by one tolerance meanwhile.
 */
const paceOf = ({ delay, effects }: Interlock): number =>
  delay === undefined ? Math.min(1, SECOND / Math.max(effects[0].within, 1)) : 1;
/** Short of the set point, in tolerances: inside the clear band's edge or just before the trip region. */
const SHORT = 1.5;

const ramp = (context: Context, cause: Cause & { kind: 'level' }, way: Way): MakeBout | undefined => {
  const { from, dir, setPoint, tolerance } = way;
  const far = Math.min(BEFORE * tolerance, 0.8 * Math.abs(setPoint - from));
  const probe = drive(context.book, context.rest, cause.signal, []);
  if (probe === undefined) return undefined;
  return (begins, truth) => {
    const target = setPoint + dir * tolerance * (truth.short ? -SHORT : BEHIND);
    const start = setPoint - dir * far;
    const perSecond = paceOf(context.interlock) * tolerance;
    const crossing = Math.max(0, far + truth.level * tolerance) / perSecond;
    const reached = begins + Math.round(crossing * SECOND);
    const acts = reached + delayOf(context.interlock, truth);
    const clears = acts + truth.hold;
    const shifts = drive(context.book, context.rest, cause.signal, [
      { kind: 'step', at: begins, value: start },
      { kind: 'ramp', at: begins, value: target, pace: { perSecond } },
      { kind: 'step', at: clears, value: from },
    ]);
    return { begins, shifts: shifts ?? [], reached, acts, clears };
  };
};

const step =
  (context: Context, cause: Cause & { kind: 'level' }, way: Way): MakeBout =>
  (begins, truth) => {
    const { from, dir, setPoint, tolerance } = way;
    const deep = setPoint + dir * tolerance * (truth.short ? -SHORT : STEP);
    // A falling cause stays above nothing at all, which would be another hazard.
    const value = from > 0 && dir < 0 ? Math.max(deep, 0.1 * from) : deep;
    const acts = begins + delayOf(context.interlock, truth);
    const clears = acts + truth.hold;
    const shifts = drive(context.book, context.rest, cause.signal, [
      { kind: 'step', at: begins, value },
      { kind: 'step', at: clears, value: from },
    ]);
    return { begins, shifts: shifts ?? [], reached: begins, acts, clears };
  };

/** A cause that is there or not: it lies over a signal from one instant to another. */
const laid =
  (context: Context, signal: SignalId, what: Cover['what'], after: Micros): MakeBout =>
  (begins, truth) => {
    const reached = begins + after;
    const acts = reached + delayOf(context.interlock, truth) + REACTION;
    const clears = truth.short ? begins + Math.round(0.4 * after) : acts + truth.hold;
    const nothing = truth.short && after === 0;
    const covers = nothing ? [] : [{ from: begins, until: clears, what }];
    return { begins, shifts: [{ signal, moves: [], covers }], reached, acts, clears };
  };

const stimulus = (context: Context, cause: Cause, makers: readonly MakeBout[]): Stimulus => ({
  method: methodOf(context, cause),
  bouts: makers,
});

const levelStimulus = (context: Context, cause: Cause & { kind: 'level' }): Stimulus | undefined => {
  const way = wayOf(context, cause);
  const slow = way && ramp(context, cause, way);
  if (way === undefined || slow === undefined) return undefined;
  return stimulus(context, cause, [slow, step(context, cause, way)]);
};

const pulseStimulus = (context: Context, cause: Cause & { kind: 'no-pulses' }): Stimulus => {
  const counts = context.book.signals[cause.signal]?.quantity === 'count';
  const what = counts ? ({ kind: 'frozen' } as const) : ({ kind: 'value', value: 0 } as const);
  return stimulus(context, cause, [laid(context, cause.signal, what, cause.after)]);
};

/** The controller starts anew: its count of life begins at 0. */
const restartStimulus = (context: Context, cause: Cause & { kind: 'restart' }): Stimulus => {
  const bout: MakeBout = (begins, truth) => {
    const anew: Move[] = [{ kind: 'step', at: begins, value: 0 }];
    const { moves } = context.rest(cause.signal);
    const counts = moves.flatMap((move): Move[] => (move.kind === 'count' ? [{ ...move, at: begins }] : []));
    const shifts = truth.short ? [] : [{ signal: cause.signal, moves: [...anew, ...counts], covers: [] }];
    return { begins, shifts, reached: begins, acts: begins, clears: begins + truth.hold };
  };
  return stimulus(context, cause, [bout]);
};

const bandStimulus = (context: Context, cause: Cause & { kind: 'band' }): Stimulus | undefined => {
  const refs = referencesOf(context.book, cause.signal);
  const near = middle(levelAt(cause.near, refs));
  const far = middle(levelAt(cause.far, refs));
  const from = healthyValue(context.book, context.rest, cause.signal);
  if (near === undefined || far === undefined) return undefined;
  const bout: MakeBout = (begins, truth) => {
    const value = truth.short ? (from + near) / 2 : (near + far) / 2;
    const acts = begins + cause.hold;
    const clears = acts + truth.hold;
    const shifts = drive(context.book, context.rest, cause.signal, [
      { kind: 'step', at: begins, value },
      { kind: 'step', at: clears, value: from },
    ]);
    return { begins, shifts: shifts ?? [], reached: begins, acts, clears };
  };
  return stimulus(context, cause, [bout]);
};

/** The first `need` members at once, each by its own last excursion. */
const groupStimulus = (context: Context, cause: Cause & { kind: 'group' }): Stimulus | undefined => {
  const members = cause.of.slice(0, cause.need).map((one) => stimulusIn(context, one));
  const lasts = members.map((one) => one?.bouts.at(-1));
  if (lasts.some((one) => one === undefined)) return undefined;
  const bout: MakeBout = (begins, truth) => {
    const all = lasts.flatMap((make) => (make === undefined ? [] : [make(begins, truth)]));
    const latest = (of: 'reached' | 'acts' | 'clears'): Micros => Math.max(...all.map((one) => one[of]));
    const shifts = all.flatMap((one) => one.shifts);
    return { begins, shifts, reached: latest('reached'), acts: latest('acts'), clears: latest('clears') };
  };
  return stimulus(context, cause, [bout]);
};

/** How to bring a cause about; undefined for kinds, or signals behind them, that nobody knows how to move yet. */
const stimulusIn = (context: Context, cause: Cause): Stimulus | undefined => {
  switch (cause.kind) {
    case 'level':
      return levelStimulus(context, cause);
    case 'contact':
      return stimulus(context, cause, [
        laid(context, cause.signal, { kind: 'value', value: cause.state }, 0),
      ]);
    case 'no-pulses':
      return pulseStimulus(context, cause);
    case 'band':
      return bandStimulus(context, cause);
    case 'sensor-fault':
      return stimulus(context, cause, [
        laid(context, cause.signal, { kind: 'absent', absence: 'sensor-fault' }, 0),
      ]);
    case 'silent':
      return stimulus(context, cause, [
        laid(context, cause.signal, { kind: 'absent', absence: 'timed-out' }, cause.after),
      ]);
    case 'stuck':
      return stimulus(context, cause, [laid(context, cause.signal, { kind: 'frozen' }, cause.after)]);
    case 'restart':
      return restartStimulus(context, cause);
    case 'group':
      return groupStimulus(context, cause);
    default:
      return undefined;
  }
};

/** How to bring an interlock's cause about, in the plant as it needs it. */
export const stimulusOf = (
  book: Book,
  interlock: Interlock,
  rest: Rest = worldOf(book, interlock).rest,
): Stimulus | undefined => stimulusIn({ book, interlock, rest }, interlock.cause);
