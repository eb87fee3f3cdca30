import { type Fault, type HandCommand, type Sample, simulate } from '../../../src/plant/index.ts';
import { advance, applyHand, createModel, truthOf } from '../../../src/plant/model/index.ts';

export const POLL = { every: 20_000, phase: 3_000 };
export type Script = readonly (readonly [number, HandCommand])[];

/** All machines run at normal speed from 4 s on; the start-up inhibit is over at about 5.7 s. */
export const START: Script = [
  [0.5, { do: 'start', machine: 'E1' }],
  [0.5, { do: 'start', machine: 'C2' }],
  [4, { do: 'start', machine: 'F1' }],
];

/** The injector has taken the running pulses of leg 1 as normal and stands in for its sensor from 10 s on. */
export const INJECT: Script = [
  [8, { do: 'injector', machine: 'E1', mode: 'taking' }],
  [10, { do: 'injector', machine: 'E1', mode: 'injecting' }],
];

export const run = (script: Script, until: number, fault?: Fault): Sample[] =>
  simulate({ seed: 7, ...(fault && { fault }) }, [...START, ...script], until, POLL);

/** Seconds at which a signal first shows a value after `from`; NaN where it never does. */
export const when = (samples: readonly Sample[], signal: string, value: number, from = 0): number =>
  (samples.find((sample) => sample.at / 1e6 > from && sample.image[signal] === value)?.at ?? Number.NaN) /
  1e6;

/** The last image shown no later than `t` seconds. */
export const at = (samples: readonly Sample[], t: number): Readonly<Record<string, number>> =>
  samples.findLast((sample) => sample.at / 1e6 <= t)?.image ?? {};

/** What is really so after a script, whatever the controller shows. */
export const truthAfter = (
  script: Script,
  until: number,
  fault?: Fault,
): Readonly<Record<string, number>> => {
  const model = createModel({ seed: 7, ...(fault && { fault }) });
  for (const [seconds, command] of [...START, ...script]) {
    advance(model, Math.round(seconds * 1e6) - model.asked);
    applyHand(model, command);
  }
  advance(model, until * 1e6 - model.asked);
  return truthOf(model);
};
