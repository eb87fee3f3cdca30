import { exactly, type Interval, type Reason } from '../measure/index.ts';
import { adviceOf } from './plan-advice.ts';
import { bandOf, type HoldTest, holdOf, type Keep, keepOf, stepOf } from './plan-hold.ts';
import { type PulseFigures, pulsesOf } from './plan-pulses.ts';
import { attributionReasons, bandReasons, levelReasons, notesOf, timeReasons } from './plan-reasons.ts';
import { safetyNotes, safetyReasons } from './plan-safety.ts';
import type { Known } from './plan-sight.ts';
import { delayDoubt, fastestRamp, rampFrom, rampSeconds, reactionOf, steppedRamp } from './plan-trip.ts';
import { middle, timeDoubt, type View, viewOf } from './plan-view.ts';
import type { Book, Interlock, InterlockId } from './types.ts';

/** What can be known of a trip point. Values in `unit`, times in seconds. */
export interface TripPlan {
  readonly unit: string;
  /** What percentages refer to, where the set point is one. */
  readonly normal?: number;
  /** Set point, its band and the limit; undefined where normal and nameplate are not known beforehand. */
  readonly setPoint?: number;
  readonly band?: Interval;
  readonly limit?: number;
  /** Where the value counts as clear again, and where it is certainly inside or outside the band. */
  readonly edges?: { readonly clear: number; readonly inside: number; readonly outside: number };
  /** Widest interval for a cause that stands still: no ramp is slow enough to remove it. */
  readonly fixed?: number;
  /** So far one bound of it can lie from the truth. */
  readonly reach?: number;
  /** Seconds of a ramp that its doubt is worth: doubt = fixed + rate × seconds. */
  readonly seconds?: number;
  /** Unit per second up to which a trip at the set point is decided at every phase; undefined: no ramp is slow enough. */
  readonly fastestRamp?: number;
  /** The same, percent of normal per second. */
  readonly fastestPercent?: number;
  /** By this value a ramp must be no faster. */
  readonly rampFrom?: number;
  /**
   * Without a delay: seconds of ramp that the doubt is worth besides, for deciding, until the reaction is measured. The
   * ramp above allows for them.
   */
  readonly reaction?: number;
  /** The ramp that is fast enough once a step in the same window has measured the reaction, where that is faster. */
  readonly steppedRamp?: number;
}

/** What the polling as it stands can decide of one interlock. */
export interface Feasibility {
  readonly interlock: InterlockId;
  /** Width of the response time as an interval, seconds; undefined where readings come from a file. */
  readonly responseDoubt?: number;
  /** The same for each effect, in their order. */
  readonly effectDoubts?: readonly number[];
  /** Width of a delay that a step measures, for a cause that is a level. */
  readonly delayDoubt?: number;
  /** For a cause that is a level. */
  readonly tripPoint?: TripPlan;
  readonly hold?: HoldTest;
  /**
   * With a delay, a ramp is not enough: a step to this reading or beyond belongs into the same window. Without one, it
   * lets the ramp be faster.
   */
  readonly step?: number;
  /** The cause must last so long for a missing effect to be certain. */
  readonly keep?: Keep;
  /** For a cause that is a band: where its readings must lie, and for how long, seconds. */
  readonly band?: { readonly within: Interval; readonly seconds: number };
  /** For a contact, and for the loss of pulses: what the cause reads while it is there. */
  readonly present?: Interval;
  readonly pulses?: PulseFigures;
  /** What cannot be decided, and what would decide it. */
  readonly undecidable: readonly Reason[];
  /** What is decided only with luck, and what may deceive. */
  readonly notes: readonly Reason[];
  /** How to make the test. */
  readonly advice: readonly Reason[];
}

/** Width that a trip point has at a ramp of `rate` units per second. */
export const tripPointDoubt = (fixed: number, seconds: number, rate: number): number =>
  fixed + rate * seconds;

/** Leaves out what is not known. */
const known = <T extends object>(values: T): { [K in keyof T]?: Exclude<T[K], undefined> } =>
  Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as never;

const tripPlanOf = (view: View): TripPlan => {
  const { places, sharpness, interlock, cause } = view;
  const common = { unit: cause.unit, ...known({ fixed: sharpness?.hull, reach: sharpness?.reach }) };
  const seconds = rampSeconds(view);
  const reaction = seconds === undefined ? undefined : reactionOf(view)?.usual;
  if (places === undefined) return { ...common, ...known({ seconds, reaction }) };
  const { sign, setPoint, normal } = places;
  const edges = [sign * middle(places.inner), sign * middle(places.outer)];
  const towards = interlock.limit?.side === 'no-higher-than' ? 1 : -1;
  const ramp = fastestRamp(view);
  return {
    ...common,
    setPoint: sign * setPoint,
    band: { low: Math.min(...edges), high: Math.max(...edges) },
    edges: {
      clear: sign * places.clear.high,
      inside: sign * places.inner.low,
      outside: sign * places.outer.low,
    },
    ...known({
      seconds,
      reaction,
      normal,
      limit: places.toLimit === undefined ? undefined : sign * setPoint + towards * places.toLimit,
      fastestRamp: ramp,
      fastestPercent: ramp === undefined || normal === undefined ? undefined : (100 * ramp) / normal,
      rampFrom: rampFrom(view, ramp ?? 0),
      steppedRamp: steppedRamp(view),
    }),
  };
};

const effectDoubtsOf = (view: View): readonly number[] | undefined => {
  const doubts = view.effects.flatMap((seen) => timeDoubt(view, seen) ?? []);
  return doubts.length === view.effects.length ? doubts : undefined;
};

/** Loss of pulses is seen as a speed of zero; a count that stands still reads nothing of its own. */
const presentOf = ({ interlock, cause }: View): Interval | undefined => {
  const { kind } = interlock.cause;
  if (kind === 'contact') return exactly(interlock.cause.state);
  return kind === 'no-pulses' && cause.quantity !== 'count' ? exactly(0) : undefined;
};

const feasibilityOf = (book: Book, interlock: Interlock, given: Known): Feasibility => {
  const view = viewOf(book, interlock, given);
  if (view === undefined) return { interlock: interlock.id, undecidable: [], notes: [], advice: [] };
  const level = interlock.cause.kind === 'level';
  const tripPoint = level ? tripPlanOf(view) : undefined;
  const ramp = tripPoint?.fastestRamp;
  const stepped = tripPoint?.steppedRamp;
  const hold = holdOf(view);
  const step =
    level && (stepped !== undefined || interlock.delay) ? stepOf(view, stepped ?? ramp) : undefined;
  const keep = keepOf(view);
  const band = bandOf(view);
  const pulses = pulsesOf(view);
  return {
    interlock: interlock.id,
    ...known({
      responseDoubt: timeDoubt(view),
      effectDoubts: effectDoubtsOf(view),
      delayDoubt: level && interlock.delay ? delayDoubt(view) : undefined,
      tripPoint,
      hold,
      step,
      keep,
      band,
      present: presentOf(view),
      pulses,
    }),
    undecidable: [
      ...(level ? levelReasons(view, pulses) : []),
      ...bandReasons(view),
      ...timeReasons(view),
      ...safetyReasons(view),
      ...attributionReasons(view),
    ],
    notes: [...notesOf(view, pulses), ...safetyNotes(view)],
    advice: adviceOf(view, { ramp, stepped, from: tripPoint?.rampFrom, hold, step, keep, band }),
  };
};

/**
 * What can be decided of each interlock before anybody tests, and how to test it. What is known once the plant is read
 * (answer times, normals, set points in tags) makes the figures sharper; without it they stand on the book alone.
 */
export const feasibility = (book: Book, given: Known = {}): readonly Feasibility[] =>
  book.interlocks.map((interlock) => feasibilityOf(book, interlock, given));
