import { type Absence, atMost, type Interval } from '../measure/index.ts';
import {
  inverted,
  PLATINUM,
  type Rising,
  THERMOCOUPLES,
  thermistorTemperature,
  WITHIN,
} from './thermometers.ts';
import type { Curve, CurveShape } from './types.ts';

/** A value with its doubt, or why there is none. */
type Through = Interval | Absence;

/**
 * NAMUR NE 43: 3.8 to 20.5 mA is a measurement; at most 3.6 or at least 21.0 mA is a failure of the transmitter or its
 * wire. What lies between says neither.
 */
const LOOP = { failsBelow: 3.6, from: 3.8, to: 20.5, failsAbove: 21, zero: 4, span: 16 } as const;

const looped = (
  { from, to }: { readonly from: number; readonly to: number },
  mA: number,
  half: number,
): Through => {
  if (atMost(mA, LOOP.failsBelow) || atMost(LOOP.failsAbove, mA)) return 'sensor-fault';
  if (!atMost(LOOP.from, mA) || !atMost(mA, LOOP.to)) return 'implausible';
  const at = (current: number): number => from + ((current - LOOP.zero) / LOOP.span) * (to - from);
  const [one, other] = [at(mA - half), at(mA + half)];
  return { low: Math.min(one, other), high: Math.max(one, other) };
};

const hull = (rising: Rising, low: number, high: number): Through => {
  const [from, to] = [inverted(rising, low), inverted(rising, high)];
  return from === undefined || to === undefined ? 'implausible' : { low: from.low, high: to.high };
};

const thermistor = (shape: CurveShape & { as: 'thermistor' }, low: number, high: number): Through => {
  const [cold, hot] = [thermistorTemperature(shape, high), thermistorTemperature(shape, low)];
  return cold <= hot ? { low: cold - WITHIN, high: hot + WITHIN } : 'implausible';
};

const shaped = (curve: CurveShape, x: number, half: number): Through => {
  switch (curve.as) {
    case 'platinum':
      return hull(PLATINUM, (x - half) / curve.nominal, (x + half) / curve.nominal);
    case 'thermocouple': {
      const rising = THERMOCOUPLES[curve.letter];
      const cold = rising.at(curve.cold);
      return hull(rising, x - half + cold, x + half + cold);
    }
    case 'thermistor':
      return thermistor(curve, x - half, x + half);
    case 'loop':
      return looped(curve, x, half);
    default:
      return curve satisfies never;
  }
};

/**
 * A number in ohm, mV or mA through a sensor's curve, to the unit of the signal. Both ends of its doubt go through;
 * every curve rises or falls all along, so the value lies between what comes out.
 */
export const throughCurve = (curve: Curve, x: number): Through => {
  const through = shaped(curve, x, curve.step / 2 + curve.error);
  if (typeof through === 'string') return through;
  return {
    low: through.low * curve.scale + curve.offset,
    high: through.high * curve.scale + curve.offset,
  };
};

const within = (rising: Rising, t: number): number | undefined =>
  t >= rising.low && t <= rising.high ? rising.at(t) : undefined;

/** What the curve would read at a value in the unit of the signal; undefined where it has none. */
const readAt = (curve: Curve, value: number): number | undefined => {
  const t = (value - curve.offset) / curve.scale;
  switch (curve.as) {
    case 'platinum': {
      const share = within(PLATINUM, t);
      return share === undefined ? undefined : curve.nominal * share;
    }
    case 'thermocouple': {
      const rising = THERMOCOUPLES[curve.letter];
      const mV = within(rising, t);
      return mV === undefined ? undefined : mV - rising.at(curve.cold);
    }
    case 'thermistor':
      return thermistorAt(curve, t);
    case 'loop':
      return LOOP.zero + (LOOP.span * (value - curve.from)) / (curve.to - curve.from);
    default:
      return curve satisfies never;
  }
};

/** Ohms at a temperature: halved from a hundredth of an ohm to a hundred megohms. */
const thermistorAt = (shape: CurveShape & { as: 'thermistor' }, t: number): number | undefined => {
  let [few, many] = [1e-2, 1e8];
  if (!(thermistorTemperature(shape, few) >= t && thermistorTemperature(shape, many) <= t)) return undefined;
  for (let round = 0; round < 100; round += 1) {
    const middle = Math.sqrt(few * many);
    if (thermistorTemperature(shape, middle) >= t) few = middle;
    else many = middle;
  }
  return few;
};

const PLACES = 256;

/**
 * The most that a doubt of `half` to each side before the curve can become behind it, over a range of values: looked
 * for at 256 places, which the smoothness of the curves allows. Undefined where the range reaches out of the curve.
 */
export const steepest = (curve: Curve, half: number, range: Interval): number | undefined => {
  let widest = 0;
  for (let place = 0; place <= PLACES; place += 1) {
    const value = range.low + ((range.high - range.low) * place) / PLACES;
    const x = readAt(curve, value);
    if (x === undefined) return undefined;
    // A value at this place is read within half a step of it.
    for (const read of [x - half, x, x + half]) {
      const around = shaped(curve, read, half);
      // At its very ends half a step may reach out of the curve; its neighbours stand for it.
      if (typeof around !== 'string') widest = Math.max(widest, (around.high - around.low) * curve.scale);
    }
  }
  return widest;
};
