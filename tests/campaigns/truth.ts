/**
 * What is true of a drawn plant, from its making alone.
 *
 * *Set point*: the value at the sensor beyond which the controller's timer starts, as a person with perfect
 * instruments finds it by holding the value still (a filter or a meter that lags does not move it). It is an interval
 * where the sensor's error drifts, noise shakes it, or counted pulses give it steps; where the tag shows what goes
 * *into* a filter it also reaches as far as a ramp runs ahead of the filter. Where the rule knows no delay, its word is
 * taken that there is none: what a ramp runs on during one is no error of the set point, but a step hides nothing.
 *
 * *Delay*: what that person can measure from the value passing the set point to the command: the timer's time, up to
 * two scans more (one until the input is seen, one until the timer is), and what the filter or the meter lags.
 *
 * A plant is `good` where all of that conforms, `bad` where something certainly does not, `either` where it lies across.
 */
import type { Drawn } from './plants.ts';

export type Truth = 'good' | 'bad' | 'either';

interface Range {
  readonly low: number;
  readonly high: number;
}

const against = (measured: Range, allowed: Range): Truth => {
  if (measured.low >= allowed.low && measured.high <= allowed.high) return 'good';
  return measured.high < allowed.low || measured.low > allowed.high ? 'bad' : 'either';
};

/** How much later than the quantity the controller's own value is, at most. */
const lagOf = ({ made }: Drawn): number => {
  const { sensing, filter, level } = made;
  if (sensing.by === 'period') return (2 * 60) / (sensing.targets * level);
  return sensing.by === 'count' ? sensing.gate + made.scan : 3 * filter;
};

/** The controller's level and what that is at the sensor, together. */
export const trueLevel = (drawn: Drawn): Range => {
  const { made, design, stimulus } = drawn;
  const { sensing } = made;
  const step = sensing.by === 'count' ? 60 / (sensing.targets * sensing.gate) : 0;
  const errors = [0, made.offset, made.offset + made.drift];
  const late = design.delay === undefined ? made.delay : 0;
  const ahead = Math.max(stimulus.rate, stimulus.coasting) * (late + (made.raw ? 3 * made.filter : 0));
  const shake = made.noise + step;
  const low = made.level - Math.max(...errors) - shake;
  const high = made.level - Math.min(...errors) + shake;
  return design.side === 'below' ? { low: low - ahead, high } : { low, high: high + ahead };
};

export const trueDelay = (drawn: Drawn): Range => {
  const { made } = drawn;
  return { low: made.delay, high: made.delay + 2 * made.scan + lagOf(drawn) };
};

const levelTruth = (drawn: Drawn): Truth[] => {
  const { design } = drawn;
  if (design.kind === 'contact') return [];
  const { setPoint, tolerance, limit, side } = design;
  const level = trueLevel(drawn);
  const free = { low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY };
  const legal =
    side === 'below' ? { ...free, low: limit ?? free.low } : { ...free, high: limit ?? free.high };
  return [against(level, { low: setPoint - tolerance, high: setPoint + tolerance }), against(level, legal)];
};

const delayTruth = (drawn: Drawn): Truth[] => {
  const { delay } = drawn.design;
  if (delay === undefined) return [];
  return [
    against(trueDelay(drawn), { low: delay.time - delay.tolerance, high: delay.time + delay.tolerance }),
  ];
};

const effectTruth = (drawn: Drawn): Truth[] => {
  const { made, design } = drawn;
  const { fault, contactor, scan } = made;
  const response = trueDelay(drawn);
  const by = (within: number): Range => ({ low: Number.NEGATIVE_INFINITY, high: within });
  const stopped = { low: response.low + contactor - scan, high: response.high + contactor + scan };
  const silent =
    fault === 'dead' ||
    fault === 'run-not-wired' ||
    (fault === 'no-trip-bit' && design.shows.tripped) ||
    fault === 'motor-runs-on';
  // What lets go with the trip bit holds on where the program never sets that bit.
  const lets = !made.latched && fault !== 'no-trip-bit';
  return [
    against(response, by(design.within.run)),
    against(stopped, by(design.within.running)),
    silent || fault === 'auto-restart' || lets ? 'bad' : 'good',
  ];
};

export const truthOf = (drawn: Drawn): Truth => {
  const all = [...levelTruth(drawn), ...delayTruth(drawn), ...effectTruth(drawn)];
  if (all.includes('bad')) return 'bad';
  return all.includes('either') ? 'either' : 'good';
};
