import type { Interval, Reason } from '../measure/index.ts';
import type { HoldTest, Keep } from './plan-hold.ts';
import { reactionOf } from './plan-trip.ts';
import { longestDelay, type Places, roomOf, type View } from './plan-view.ts';

/** What is advised to whoever makes the test. Levels in `unit`; seconds. */
export interface Advised {
  readonly ramp?: number | undefined;
  /** By this value the ramp must be no faster. */
  readonly from?: number | undefined;
  /** A faster ramp, once a step has measured the reaction. */
  readonly stepped?: number | undefined;
  readonly hold?: HoldTest | undefined;
  readonly step?: number | undefined;
  readonly keep?: Keep | undefined;
  readonly band?: { readonly within: Interval; readonly seconds: number } | undefined;
}

interface Scale {
  readonly unit: string;
  readonly factor: number;
  /** 1, 10, 100 …: levels are told in so many parts of a unit, at least ten of which the room holds. */
  readonly parts: number;
}

const FINEST = 1_000_000;

const scaleOf = (view: View, places: Places): Scale => {
  const factor = places.normal === undefined ? 1 : 100 / places.normal;
  const unit = places.normal === undefined ? view.cause.unit : '%';
  const room = Math.abs(roomOf(places)) * factor;
  let parts = 1;
  while (room * parts < 10 && parts < FINEST) parts *= 10;
  return { unit, factor, parts };
};

/** Rounded towards normal (1) or away from it (-1), so that what is advised is on the safe side. */
const rounded = (scale: Scale, places: Places, level: number, towards: 1 | -1): number => {
  const turn = places.sign * towards;
  return (turn * Math.ceil(level * scale.factor * turn * scale.parts - 1e-6)) / scale.parts;
};

const upward = (seconds: number): number => Math.ceil(seconds * 10 - 1e-6) / 10;

const holdAdvice = (scale: Scale, places: Places, hold: HoldTest, ramp: boolean): Reason => ({
  code: ramp ? 'plan-or-hold' : 'plan-hold',
  params: {
    unit: scale.unit,
    inside: rounded(scale, places, hold.inside.level, -1),
    insideFor: upward(hold.inside.seconds),
    acting: rounded(scale, places, hold.acting.level, 1),
    actingFor: upward(hold.acting.seconds),
    outside: rounded(scale, places, hold.outside.level, -1),
    outsideFor: upward(hold.outside.seconds),
  },
});

const stepAdvice = (view: View, scale: Scale, places: Places, advised: Advised): readonly Reason[] => {
  if (advised.step === undefined || advised.keep === undefined) return [];
  const seconds = upward(Math.max(advised.keep.own, longestDelay(view.interlock)));
  const level = rounded(scale, places, advised.step, -1);
  const { unit } = scale;
  if (level === 0) return [{ code: 'plan-stop', params: { seconds } }];
  const side = places.sign > 0 ? { below: level } : { above: level };
  return [{ code: 'plan-step', params: { unit, seconds, ...side } }];
};

/** Without a delay a step is not needed, but lets the ramp be faster. */
const fasterAdvice = (scale: Scale, places: Places, advised: Advised): readonly Reason[] => {
  const { step, stepped, keep } = advised;
  if (step === undefined || stepped === undefined || keep === undefined) return [];
  const { unit, factor } = scale;
  const params = { unit, rate: stepped * factor, seconds: upward(keep.own) };
  const level = rounded(scale, places, step, -1);
  if (level === 0) return [{ code: 'plan-stop-first', params }];
  const side = places.sign > 0 ? { below: level } : { above: level };
  return [{ code: 'plan-step-first', params: { ...params, ...side } }];
};

/** Told where the cause must not jump on its way; a normal that is passed there cannot be. */
const fromAdvice = (view: View, scale: Scale, places: Places, from: number | undefined): Reason['params'] => {
  const { sign, normal } = places;
  const turned = normal === undefined ? Number.POSITIVE_INFINITY : sign * normal;
  const told = reactionOf(view) !== undefined && from !== undefined && sign * from < turned;
  return told ? { from: rounded(scale, places, from, 1) } : {};
};

/** How to make the test, in the order in which it is best made. */
export const adviceOf = (view: View, advised: Advised): readonly Reason[] => {
  const { places } = view;
  const { ramp, hold, keep, band } = advised;
  if (band !== undefined) {
    const { within, seconds } = band;
    return [{ code: 'plan-band', params: { within, seconds: upward(seconds), unit: view.cause.unit } }];
  }
  if (keep === undefined) return [];
  if (places === undefined) {
    return view.interlock.cause.kind === 'level'
      ? []
      : [{ code: 'plan-keep', params: { seconds: upward(keep.own) } }];
  }
  const scale = scaleOf(view, places);
  const beyond = hold && rounded(scale, places, hold.outside.level, -1);
  const rampAdvice: Reason[] =
    ramp === undefined || beyond === undefined
      ? []
      : [
          {
            code: 'plan-ramp',
            params: {
              unit: scale.unit,
              rate: ramp * scale.factor,
              level: beyond,
              seconds: upward(keep.own),
              ...fromAdvice(view, scale, places, advised.from),
            },
          },
        ];
  return [
    ...rampAdvice,
    ...(hold === undefined ? [] : [holdAdvice(scale, places, hold, rampAdvice.length > 0)]),
    ...(view.interlock.delay === undefined
      ? fasterAdvice(scale, places, advised)
      : stepAdvice(view, scale, places, advised)),
  ];
};
