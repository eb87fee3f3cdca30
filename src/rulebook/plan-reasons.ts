import { atMost, lessThan, type Reason, SECOND } from '../measure/index.ts';
import { bandEdges } from './plan-hold.ts';
import type { PulseFigures } from './plan-pulses.ts';
import { bracketOf, leastBracketOf, type Sight } from './plan-sight.ts';
import { leastDelayDoubt, lostToCells } from './plan-trip.ts';
import { middle, type Places, roomOf, type Seen, timeDoubt, type View } from './plan-view.ts';

const reason = (code: string, params: Reason['params']): Reason => ({ code, params });

/** The pace that would do: a poll interval where both are polled, else sampling and publishing together. 0: none. */
const paceFor = (view: View, seen: Seen, target: number): { poll: number } | { pace: number } | object => {
  const { sight } = view;
  if (sight === undefined || seen.sight === undefined) return {};
  const fixed = (one: Sight): number => one.early + one.late;
  const each = (target - fixed(sight) - fixed(seen.sight)) / 2;
  const found = Math.floor(each * 1_000) / 1_000;
  if (found <= 0) return {};
  const polled = [view.cause, seen.signal].every(
    ({ source }) => view.book.sources[source]?.protocol === 'modbus',
  );
  return polled ? { poll: found } : { pace: found };
};

const bandOf = ({ places }: View): number =>
  places === undefined ? 0 : middle(places.inner) - middle(places.outer);

const limitReasons = (view: View, places: Places): readonly Reason[] => {
  const { limit } = view.interlock;
  const { toLimit, sign, setPoint, outer, inner } = places;
  if (limit === undefined || toLimit === undefined) return [];
  const { unit } = view.cause;
  const towards = limit.side === 'no-lower-than' ? -1 : 1;
  const shown = sign * setPoint;
  const value = shown + towards * toLimit;
  const edges = [sign * middle(inner), sign * middle(outer)];
  const band = { low: Math.min(...edges), high: Math.max(...edges) };
  const half = (band.high - band.low) / 2;
  if (atMost(toLimit, 0)) return [reason('set-point-at-limit', { setPoint: shown, limit: value, unit })];
  return lessThan(toLimit, half) ? [reason('tolerance-beyond-limit', { band, limit: value, unit })] : [];
};

/** How coarse, against what, and what would be fine enough: a register's step, or targets, gate or tick. */
const coarse = (view: View, figures: PulseFigures | undefined, doubt: number): Reason['params'] => {
  const { cause, places } = view;
  const room = places === undefined ? 0 : roomOf(places);
  const base = { doubt, band: bandOf(view), room, unit: cause.unit };
  if (figures?.step === undefined) {
    const needed = room - 2 * cause.accuracy;
    return { ...base, ...(needed > 0 && { needed }) };
  }
  const { step, targets, gate, tick } = figures;
  return {
    ...base,
    step,
    ...(targets !== undefined && { targets }),
    ...(gate !== undefined && { gate }),
    ...(tick !== undefined && { tick: Math.floor(tick * 1e6) }),
  };
};

/** What no test can decide of the level, at this resolution. */
export const levelReasons = (view: View, figures: PulseFigures | undefined): readonly Reason[] => {
  const { places, sharpness, interlock } = view;
  if (places === undefined) return [reason('normal-not-known-yet', {})];
  const tooCoarse = (): Reason => {
    const params = coarse(view, figures, sharpness?.reading ?? 0);
    return figures?.step === undefined
      ? reason('resolution-too-coarse', params)
      : reason('pulses-too-coarse', params);
  };
  const decided = sharpness === undefined || lessThan(sharpness.reading, bandOf(view));
  return [
    ...limitReasons(view, places),
    ...(decided ? [] : [tooCoarse()]),
    ...(interlock.delay === undefined
      ? []
      : [reason('needs-step-or-hold', { delay: interlock.delay.time / SECOND })]),
  ];
};

/** A band in which no reading certainly lies cannot be held. */
export const bandReasons = (view: View): readonly Reason[] => {
  const edges = bandEdges(view);
  const { sharpness, cause } = view;
  if (edges === undefined || sharpness === undefined) return [];
  const band = edges.high - edges.low;
  const doubt = sharpness.reading;
  return lessThan(doubt, band) ? [] : [reason('resolution-too-coarse', { doubt, band, unit: cause.unit })];
};

/** What this pace cannot time. */
export const timeReasons = (view: View): readonly Reason[] => {
  const [first] = view.effects;
  const { delay } = view.interlock;
  const least = leastDelayDoubt(view);
  const found: Reason[] = [];
  const tolerance = (delay?.tolerance ?? 0) / SECOND;
  if (delay !== undefined && least !== undefined && !lessThan(least, 2 * tolerance)) {
    const pace = paceFor(view, first, tolerance - lostToCells(view));
    found.push(reason('delay-unresolvable', { tolerance, doubt: least, ...pace }));
  }
  const earliest = (delay?.time ?? 0) / SECOND;
  for (const seen of view.effects) {
    const doubt = timeDoubt(view, seen);
    const within = seen.effect.within / SECOND;
    if (doubt === undefined || !lessThan(within, earliest + leastOf(view, seen))) continue;
    const pace = paceFor(view, seen, within - earliest);
    found.push(
      reason('within-too-tight', { effect: seen.effect.name, within, doubt, delay: earliest, ...pace }),
    );
  }
  if (view.cause.source !== first.signal.source && view.sight !== undefined && first.sight !== undefined) {
    const name = (source: number): string => view.book.sources[source]?.name ?? '';
    found.push(
      reason('cause-and-effect-apart', { cause: name(view.cause.source), effect: name(first.signal.source) }),
    );
  }
  return found;
};

const leastOf = (view: View, seen: Seen): number =>
  view.sight && seen.sight ? leastBracketOf(view.sight) + leastBracketOf(seen.sight) : 0;

/** What keeps this cause from being told from another. */
export const attributionReasons = (view: View): readonly Reason[] => {
  const machine = view.machine;
  if (machine === undefined) return [];
  const stops = view.interlock.effects.some(
    (effect) => effect.class === 'command' || effect.class === 'feedback',
  );
  const found: Reason[] = [];
  if (stops && machine.stops.length === 0 && machine.tripped.length === 0) {
    found.push(reason('hand-stop-not-excluded', { machine: machine.name }));
  }
  if (machine.bypasses.length === 0) found.push(reason('bypass-not-visible', { machine: machine.name }));
  return found;
};

const delayNotes = (view: View): readonly Reason[] => {
  const { delay } = view.interlock;
  const plain = timeDoubt(view);
  const least = leastDelayDoubt(view);
  if (delay === undefined || plain === undefined || least === undefined) return [];
  const lost = lostToCells(view);
  const doubt = plain + lost;
  const tolerance = delay.tolerance / SECOND;
  if (!lessThan(least, 2 * tolerance) || !lessThan(tolerance, doubt)) return [];
  const pace = paceFor(view, view.effects[0], tolerance - lost);
  return [reason('delay-by-luck', { tolerance, doubt, ...pace })];
};

const pulseNotes = (figures: PulseFigures | undefined): readonly Reason[] => {
  const { frequency = 0, scan, share = 0, beats } = figures ?? {};
  if (scan === undefined) return [];
  const hertz = Math.round(frequency * 1_000) / 1_000;
  if (beats !== undefined) return [reason('pulses-beat', { hertz, scan, beats })];
  const needed = Math.floor(500_000 / frequency) / 1e6;
  return share > 0.5 ? [reason('pulses-missed', { hertz, scan, needed })] : [];
};

/** An effect that the book says goes away with its cause may go between two looks. */
const momentaryNotes = (view: View): readonly Reason[] =>
  view.effects.flatMap(({ effect, sight }) =>
    effect.until !== 'cause-clears' || sight === undefined
      ? []
      : [reason('effect-is-momentary', { effect: effect.name, seconds: bracketOf(sight) })],
  );

const resolutionNotes = (view: View, figures: PulseFigures | undefined): readonly Reason[] => {
  const { places, sharpness } = view;
  if (places === undefined || sharpness === undefined) return [];
  if (!lessThan(sharpness.reading, bandOf(view)) || lessThan(sharpness.reach, roomOf(places))) return [];
  const params = coarse(view, figures, sharpness.reach);
  return [
    figures?.step === undefined ? reason('resolution-by-luck', params) : reason('pulses-by-luck', params),
  ];
};

/** What is decided only where values and looks fall well, and what may deceive. */
export const notesOf = (view: View, figures: PulseFigures | undefined): readonly Reason[] => [
  ...resolutionNotes(view, figures),
  ...delayNotes(view),
  ...pulseNotes(figures),
  ...momentaryNotes(view),
];
