/** What two people with an injector, a heater and a spanner do at leg 1. Seconds from the start of the plant. */
import type { Method } from '../../src/judge/index.ts';
import type { HandCommand } from '../../src/plant/index.ts';
import type { Tried, Way } from './plant-faults-concern.ts';

export type Script = readonly (readonly [number, HandCommand])[];

export interface Procedure {
  readonly interlocks: readonly Tried[];
  readonly method: Method;
  readonly way: Way;
  /** A sound plant passes it. */
  readonly nominal: boolean;
  readonly script: Script;
  readonly until: number;
}

const machine = 'E1' as const;
const INJECT: Script = [
  [12, { do: 'injector', machine, mode: 'taking' }],
  [13, { do: 'injector', machine, mode: 'injecting' }],
];
const start = (t: number): Script => [
  [t, { do: 'start', machine }],
  [t + 1, { do: 'start', machine: 'F1' }],
];
const START: Script = [...start(0.5), [0.5, { do: 'start', machine: 'C2' }]];
/** Reset, a look whether it stays stopped, and a new start. */
const again = (t: number): Script => [[t, { do: 'reset', machine }], ...start(t + 2)];
const step = (t: number, percent: number): Script => [[t, { do: 'step', machine, percent }]];
const dip = (t: number, percent: number, seconds: number): Script => [
  ...step(t, percent),
  ...step(t + seconds, 100),
];
const block = (t: number, seconds: number, target: 'one' | 'all' = 'all'): Script => [
  [t, { do: 'block', machine, target }],
  [t + seconds, { do: 'block', machine, target: 'none' }],
];
const heat = (t: number, to: number, rate: number): Script => [[t, { do: 'heat', machine, to, rate }]];
const OUT: Script = [[12, { do: 'probe-out', machine }], ...heat(12.5, 65, 20)];
const screw = (t: number, seconds: number): Script => [
  [t, { do: 'screw', machine, turned: true }],
  [t + seconds, { do: 'screw', machine, turned: false }],
];

const speed = (way: Way, script: Script, until: number, nominal: boolean): Procedure => ({
  interlocks: ['underspeed-alarm', 'underspeed-stop'],
  method: 'injected',
  way,
  nominal,
  script: [...START, ...INJECT, ...script],
  until,
});
/** Only an injector can give the pulses back while the leg stands still, and so prove the latch. */
const pulses = (
  way: Way,
  method: 'injected' | 'blocked',
  script: Script,
  until: number,
  nominal: boolean,
): Procedure => ({
  interlocks: ['pulse-loss-stop'],
  method,
  way,
  nominal,
  script: [...START, ...script],
  until,
});
const bearing = (way: Way, script: Script, until: number, nominal: boolean): Procedure => ({
  interlocks: ['bearing-alarm', 'bearing-stop'],
  method: 'heated',
  way,
  nominal,
  script: [...START, ...OUT, ...script],
  until,
});
const alignment = (way: Way, script: Script, until: number, nominal: boolean): Procedure => ({
  interlocks: ['misalignment-alarm', 'misalignment-stop'],
  method: 'displaced',
  way,
  nominal,
  script: [...START, ...script],
  until,
});

export const PROCEDURES: readonly Procedure[] = [
  speed(
    'ramp',
    [
      ...step(14, 94),
      [15, { do: 'ramp', machine, percent: 74, rate: 1.5 }],
      ...step(34, 100),
      ...again(41),
      ...dip(56, 70, 5),
    ],
    70,
    true,
  ),
  speed('step', [...dip(16, 78, 7), ...again(30), ...dip(45, 70, 7)], 60, false),
  speed(
    'hold',
    [
      ...dip(15, 70, 0.7),
      ...dip(17, 70, 0.7),
      [20, { do: 'reset', machine }],
      ...dip(24, 83.8, 5),
      [32, { do: 'reset', machine }],
      ...dip(36, 80.2, 8),
    ],
    52,
    false,
  ),
  pulses(
    'ramp',
    'injected',
    [...INJECT, [15, { do: 'ramp', machine, percent: 0, rate: 40 }], ...step(23, 100), ...again(30)],
    42,
    false,
  ),
  pulses('step', 'injected', [...INJECT, ...dip(15, 0, 7), ...again(29), ...dip(44, 0, 7)], 58, true),
  pulses(
    'hold',
    'blocked',
    [...block(15, 3, 'one'), [21, { do: 'reset', machine }], ...block(25, 7), ...again(39)],
    50,
    false,
  ),
  bearing('ramp', [...heat(15, 85, 1.5), ...heat(36, 45, 20), ...again(43)], 52, true),
  bearing('step', [...heat(15, 84, 50), ...heat(24, 45, 20), ...again(31)], 40, false),
  bearing('hold', [...heat(15, 78, 5), ...heat(23, 82, 50), ...heat(31, 45, 20), ...again(38)], 46, false),
  alignment(
    'ramp',
    [
      [15, { do: 'wander', machine, to: 40, rate: 5 }],
      [28, { do: 'wander', machine, to: 0, rate: 40 }],
      ...again(33),
    ],
    42,
    false,
  ),
  alignment('step', [...screw(15, 8), ...again(30)], 40, true),
  alignment(
    'hold',
    [...screw(15, 1.2), [19, { do: 'reset', machine }], ...screw(23, 8), ...again(38)],
    46,
    false,
  ),
  alignment(
    'hands',
    [
      [15, { do: 'screw', machine, turned: true }],
      [18.5, { do: 'silence', machine }],
      [22, { do: 'screw', machine, turned: false }],
      [25, { do: 'power-cycle', seconds: 1 }],
      [29, { do: 'start', machine, seconds: 5 }],
      [31, { do: 'reset', machine }],
    ],
    42,
    false,
  ),
];
