import { exactly, type Interval, SECOND } from '../measure/index.ts';
import type { SignalDef } from '../signal/index.ts';
import { levelAt, levelPlus, type References } from './level.ts';
import { derivedSharpness } from './plan-derived.ts';
import { bracketOf, type Known, type Sight, sightOf } from './plan-sight.ts';
import { type Sharpness, sharpnessOf } from './plan-value.ts';
import type { Book, Cause, Effect, Interlock, Level, Machine } from './types.ts';

/** The levels of a cause, turned so that the cause falls; each an interval, because normal is in doubt. */
export interface Places {
  /** 1 for a cause that falls, -1 for one that rises: `sign × level` is the level in the unit of the signal. */
  readonly sign: 1 | -1;
  readonly setPoint: number;
  readonly inner: Interval;
  readonly outer: Interval;
  readonly clear: Interval;
  /** How far the trip level may lie beyond the set point before it breaks the limit; undefined: no limit is known. */
  readonly toLimit?: number;
  /** The value that percentages refer to, where the set point is a percentage of it. */
  readonly normal?: number;
}

/** What is known of one effect. */
export interface Seen {
  readonly effect: Effect;
  readonly signal: SignalDef;
  readonly sight: Sight | undefined;
}

/** An interlock with all that its plan is made from. */
export interface View {
  readonly book: Book;
  readonly interlock: Interlock;
  readonly machine: Machine | undefined;
  readonly cause: SignalDef;
  readonly references: References;
  readonly places: Places | undefined;
  /** Of the cause, while it stands at its set point. */
  readonly sight: Sight | undefined;
  readonly sharpness: Sharpness | undefined;
  readonly effects: readonly [Seen, ...Seen[]];
}

export const middle = (interval: Interval): number => (interval.low + interval.high) / 2;

const turned = (value: Interval, sign: 1 | -1): Interval =>
  sign > 0 ? value : { low: -value.high, high: -value.low };

const around = (value: Interval, half: number): Interval => ({
  low: value.low - half,
  high: value.high + half,
});

/** What a normal will be is expected at the nameplate, and known as well as the signal that tells it. */
const referencesOf = (
  book: Book,
  machine: Machine | undefined,
  cause: SignalDef,
  known: Known,
): References => {
  const { tags } = known;
  const normal = machine?.normals.find(({ signal }) => signal === cause.id);
  if (normal === undefined) return { tags };
  const { from, nameplate } = normal;
  const told = known.normals?.[cause.id] ?? (from.kind === 'declared' ? from.value : undefined);
  if (told !== undefined || nameplate === undefined) return { normal: told, nameplate, tags };
  const teller = from.kind === 'tag' ? book.signals.find(({ id }) => id === from.signal) : cause;
  const step = teller?.resolution ?? 0;
  const half = (from.kind === 'tag' ? step / 2 : step) + (teller?.accuracy ?? 0);
  return { normal: around(exactly(middle(nameplate)), half), nameplate, tags };
};

const toLimitOf = (interlock: Interlock, refs: References, setPoint: number): number | undefined => {
  const { limit } = interlock;
  const level = limit && levelAt(limit.level, refs);
  if (limit === undefined || level === undefined) return undefined;
  return limit.side === 'no-lower-than' ? setPoint - level.high : level.low - setPoint;
};

const placesOf = (
  interlock: Interlock,
  cause: Extract<Cause, { kind: 'level' }>,
  refs: References,
): Places | undefined => {
  const sign = cause.side === 'below' ? 1 : -1;
  const at = (level: Level): Interval | undefined => {
    const found = levelAt(level, refs);
    return found && turned(found, sign);
  };
  const setPoint = at(cause.setPoint);
  const inner = at(levelPlus(cause.setPoint, cause.tolerance, sign));
  const outer = at(levelPlus(cause.setPoint, cause.tolerance, -sign));
  const clear = at(cause.clears);
  if (setPoint === undefined || inner === undefined || outer === undefined || clear === undefined)
    return undefined;
  const toLimit = toLimitOf(interlock, refs, sign * middle(setPoint));
  const share = cause.setPoint.of === 'normal' && cause.setPoint.offset === 0 ? refs.normal : undefined;
  return {
    sign,
    setPoint: middle(setPoint),
    inner,
    outer,
    clear,
    ...(toLimit === undefined ? {} : { toLimit }),
    ...(share === undefined ? {} : { normal: middle(share) }),
  };
};

export const viewOf = (book: Book, interlock: Interlock, known: Known): View | undefined => {
  const machine = book.machines.find(({ index }) => index === interlock.machine);
  const at = (id: number): SignalDef | undefined => book.signals.find((signal) => signal.id === id);
  const cause = at(interlock.cause.signal);
  const [first, ...others] = interlock.effects.flatMap((effect): Seen[] => {
    const signal = at(effect.signal);
    const sight = signal && sightOf(book, signal.id, machine, known);
    return signal === undefined ? [] : [{ effect, signal, sight }];
  });
  if (cause === undefined || first === undefined) return undefined;
  const references = referencesOf(book, machine, cause, known);
  const places =
    interlock.cause.kind === 'level' ? placesOf(interlock, interlock.cause, references) : undefined;
  const normal = references.normal ?? references.nameplate;
  const value = places === undefined ? normal && middle(normal) : places.sign * places.setPoint;
  const sight = sightOf(book, cause.id, machine, known, value);
  return {
    book,
    interlock,
    machine,
    cause,
    references,
    places,
    sight,
    sharpness:
      cause.address.kind === 'derived'
        ? derivedSharpness(book, machine, cause.address.from, known)
        : sharpnessOf(cause, sight, value),
    effects: [first, ...others],
  };
};

/** The least distance from the nominal set point to what the trip level must not pass; negative: none is left. */
export const roomOf = (places: Places): number => {
  const band = Math.min(places.inner.low - places.setPoint, places.setPoint - places.outer.high);
  const { toLimit } = places;
  return toLimit !== undefined && toLimit > 0 ? Math.min(band, toLimit) : band;
};

/** Delay and its tolerance, seconds. */
export const longestDelay = (interlock: Interlock): number =>
  ((interlock.delay?.time ?? 0) + (interlock.delay?.tolerance ?? 0)) / SECOND;

/** Both polled by one Modbus source: their answers come together, so that looks fall at the same instants. */
export const polledTogether = (view: View): boolean => {
  const [{ signal }] = view.effects;
  return view.cause.source === signal.source && view.book.sources[signal.source]?.protocol === 'modbus';
};

/** One answer that is of one scan: no age between cause and effect. A speed from pulses is of a time before. */
export const sharesInstant = (view: View): boolean => {
  const source = view.book.sources[view.cause.source];
  const consistent = source !== undefined && 'scanConsistent' in source && source.scanConsistent;
  return polledTogether(view) && consistent && !view.cause.decoding.as.startsWith('pulse');
};

/** Doubt of the time from the cause to an effect, seconds; undefined where readings come from a file. */
export const timeDoubt = (view: View, seen: Seen = view.effects[0]): number | undefined =>
  view.sight && seen.sight && bracketOf(view.sight) + bracketOf(seen.sight);
