import { atMost, type Interval, lessThan, type Reason, SECOND } from '../measure/index.ts';
import type { SignalDef, Source } from '../signal/index.ts';
import { levelAt, type References } from './level.ts';
import type { Book, Cause, Interlock, InterlockId, Machine } from './types.ts';

/** How sharply a signal's changes can be placed in time. Seconds. */
interface Sight {
  /** From one look to the next. */
  readonly every: number;
  readonly age: number;
}

/** What the polling as it stands can decide of one interlock. */
export interface Feasibility {
  readonly interlock: InterlockId;
  /** Width of the response time as an interval, seconds; undefined where readings come from a file. */
  readonly responseDoubt?: number;
  /** For a cause that is a level; in the unit of its signal. */
  readonly tripPoint?: {
    readonly unit: string;
    /** Set point, its band and the limit; undefined where normal and nameplate are not known beforehand. */
    readonly setPoint?: number;
    readonly band?: Interval;
    readonly limit?: number;
    /** Doubt that no ramp is slow enough to remove: resolution and accuracy. */
    readonly fixed: number;
    /** Seconds of a ramp that its doubt is worth: doubt = fixed + rate × seconds. */
    readonly seconds: number;
    /** Unit per second at which the doubt is as wide as half the band; undefined where no ramp is slow enough. */
    readonly fastestRamp?: number;
  };
  readonly undecidable: readonly Reason[];
}

/** Width that a trip point has at a ramp of `rate` units per second. */
export const tripPointDoubt = (fixed: number, seconds: number, rate: number): number =>
  fixed + rate * seconds;

const everyOf = (source: Source): number | undefined => {
  if (source.protocol === 'modbus-tcp') return source.poll / SECOND;
  if (source.protocol === 'trace') return undefined;
  const bound = source.clockBound ?? source.publishing;
  return (source.sampling + 2 * bound) / SECOND;
};

const sightOf = (book: Book, signal: SignalDef): Sight | undefined => {
  const source = book.sources[signal.source];
  const every = source === undefined ? undefined : everyOf(source);
  return every === undefined ? undefined : { every, age: signal.age / SECOND };
};

/** Signals of one answer of a scan-consistent source share their age: it cancels. */
const sharesInstant = (book: Book, a: SignalDef, b: SignalDef): boolean => {
  const source = book.sources[a.source];
  return a.source === b.source && source !== undefined && 'scanConsistent' in source && source.scanConsistent;
};

interface View {
  readonly book: Book;
  readonly interlock: Interlock;
  readonly machine: Machine | undefined;
  readonly cause: SignalDef;
  readonly effect: SignalDef;
}

const viewOf = (book: Book, interlock: Interlock): View | undefined => {
  const at = (id: number): SignalDef | undefined => book.signals.find((signal) => signal.id === id);
  const cause = at(interlock.cause.signal);
  const effect = at(interlock.effects[0].signal);
  const machine = book.machines.find(({ index }) => index === interlock.machine);
  return cause === undefined || effect === undefined
    ? undefined
    : { book, interlock, machine, cause, effect };
};

const responseDoubtOf = (view: View): number | undefined => {
  const cause = sightOf(view.book, view.cause);
  const effect = sightOf(view.book, view.effect);
  if (cause === undefined || effect === undefined) return undefined;
  const ages = sharesInstant(view.book, view.cause, view.effect) ? 0 : cause.age + effect.age;
  return cause.every + effect.every + ages;
};

/** Seconds of a moving cause that cannot be told apart: the look, the bracketing looks, the doubt of the delay. */
const movingSeconds = (view: View): number => {
  const cause = sightOf(view.book, view.cause);
  const effect = sightOf(view.book, view.effect);
  if (cause === undefined || effect === undefined) return 0;
  const bracket = sharesInstant(view.book, view.cause, view.effect) ? 0 : 2 * cause.every;
  return effect.every + bracket + (2 * (view.interlock.delay?.tolerance ?? 0)) / SECOND;
};

const referencesOf = (view: View): References => {
  const normal = view.machine?.normals.find(({ signal }) => signal === view.cause.id);
  const declared = normal?.from.kind === 'declared' ? normal.from.value : undefined;
  return { normal: declared ?? normal?.nameplate, nameplate: normal?.nameplate };
};

const middle = (interval: Interval | undefined): number | undefined =>
  interval === undefined ? undefined : (interval.low + interval.high) / 2;

const tripPointOf = (
  view: View,
  cause: Extract<Cause, { kind: 'level' }>,
): NonNullable<Feasibility['tripPoint']> => {
  const refs = referencesOf(view);
  const setPoint = middle(levelAt(cause.setPoint, refs));
  const tolerance = middle(levelAt(cause.tolerance, refs));
  const level = view.interlock.limit?.level;
  const limit = level === undefined ? undefined : middle(levelAt(level, refs));
  const fixed = view.cause.resolution + 2 * view.cause.accuracy;
  const seconds = movingSeconds(view);
  const spare = tolerance === undefined ? 0 : tolerance - fixed;
  const known = setPoint !== undefined && tolerance !== undefined;
  return {
    unit: view.cause.unit,
    ...(setPoint === undefined ? {} : { setPoint }),
    ...(known ? { band: { low: setPoint - tolerance, high: setPoint + tolerance } } : {}),
    ...(limit === undefined ? {} : { limit }),
    fixed,
    seconds,
    ...(spare > 0 && seconds > 0 ? { fastestRamp: spare / seconds } : {}),
  };
};

const levelReasons = (view: View, point: NonNullable<Feasibility['tripPoint']>): readonly Reason[] => {
  const { setPoint, band, limit, fixed, unit } = point;
  const found: Reason[] = [];
  if (setPoint === undefined || band === undefined) return [{ code: 'normal-not-known-yet', params: {} }];
  if (limit !== undefined) {
    const sign = view.interlock.limit?.side === 'no-higher-than' ? -1 : 1;
    const near = sign > 0 ? band.low : band.high;
    if (atMost(sign * setPoint, sign * limit)) {
      found.push({ code: 'set-point-at-limit', params: { setPoint, limit, unit } });
    } else if (lessThan(sign * near, sign * limit)) {
      found.push({ code: 'tolerance-beyond-limit', params: { band, limit, unit } });
    }
  }
  const width = band.high - band.low;
  if (!lessThan(fixed, width))
    found.push({ code: 'resolution-too-coarse', params: { doubt: fixed, band: width, unit } });
  if (view.interlock.delay !== undefined) {
    found.push({ code: 'needs-step-or-hold', params: { delay: view.interlock.delay.time / SECOND } });
  }
  return found;
};

const timeReasons = (view: View, doubt: number | undefined): readonly Reason[] => {
  if (doubt === undefined) return [];
  const found: Reason[] = [];
  const { delay } = view.interlock;
  if (delay !== undefined && !lessThan(doubt, (2 * delay.tolerance) / SECOND)) {
    found.push({ code: 'delay-unresolvable', params: { tolerance: delay.tolerance / SECOND, doubt } });
  }
  const earliest = (delay?.time ?? 0) / SECOND;
  for (const effect of view.interlock.effects) {
    const within = effect.within / SECOND;
    if (lessThan(within, earliest + doubt)) {
      found.push({
        code: 'within-too-tight',
        params: { effect: effect.name, within, doubt, delay: earliest },
      });
    }
  }
  if (view.cause.source !== view.effect.source) {
    const name = (signal: SignalDef): string => view.book.sources[signal.source]?.name ?? '';
    found.push({
      code: 'cause-and-effect-apart',
      params: { cause: name(view.cause), effect: name(view.effect) },
    });
  }
  return found;
};

const attributionReasons = (view: View): readonly Reason[] => {
  const machine = view.machine;
  if (machine === undefined) return [];
  const stops = view.interlock.effects.some(
    (effect) => effect.class === 'command' || effect.class === 'feedback',
  );
  const found: Reason[] = [];
  if (stops && machine.stops.length === 0 && machine.tripped.length === 0) {
    found.push({ code: 'hand-stop-not-excluded', params: { machine: machine.name } });
  }
  if (machine.bypasses.length === 0)
    found.push({ code: 'bypass-not-visible', params: { machine: machine.name } });
  return found;
};

const feasibilityOf = (book: Book, interlock: Interlock): Feasibility => {
  const view = viewOf(book, interlock);
  if (view === undefined) return { interlock: interlock.id, undecidable: [] };
  const responseDoubt = responseDoubtOf(view);
  const tripPoint = interlock.cause.kind === 'level' ? tripPointOf(view, interlock.cause) : undefined;
  return {
    interlock: interlock.id,
    ...(responseDoubt === undefined ? {} : { responseDoubt }),
    ...(tripPoint === undefined ? {} : { tripPoint }),
    undecidable: [
      ...(tripPoint === undefined ? [] : levelReasons(view, tripPoint)),
      ...timeReasons(view, responseDoubt),
      ...attributionReasons(view),
    ],
  };
};

/** What can be decided of each interlock before anybody tests: the answer time of the source is not in it. */
export const feasibility = (book: Book): readonly Feasibility[] =>
  book.interlocks.map((interlock) => feasibilityOf(book, interlock));
