/** For every fault a script of hands and something to look at, with what a sound plant and the planted one show. */
import type { Fault, HandCommand, Sample } from '../../../src/plant/index.ts';
import { at, INJECT, type Script, when } from './script.ts';

type Truth = Readonly<Record<string, number>>;
type See = (samples: readonly Sample[], truth: Truth) => unknown;
export type Tried = readonly [script: Script, until: number, see: See, sound: unknown, planted: unknown];

const E1 = 'E1' as const;
const step = (t: number, percent: number): Script => [...INJECT, [t, { do: 'step', machine: E1, percent }]];
const hand = (t: number, command: HandCommand): Script => [[t, command]];

const NOTHING: Script = [];
const RAMP: Script = [
  ...step(12, 86),
  [14, { do: 'ramp', machine: E1, percent: 70, rate: 2 }],
  [30, { do: 'step', machine: E1, percent: 100 }],
  [34, { do: 'reset', machine: E1 }],
];
const STEP = step(12, 70);
const HELD = step(12, 86);
const HEAT: Script = [
  [9, { do: 'probe-out', machine: E1 }],
  [9, { do: 'heat', machine: E1, to: 84, rate: 4 }],
];
const SCREW = hand(10, { do: 'screw', machine: E1, turned: true });
const WIRE = hand(10, { do: 'wire', machine: E1, broken: true });
const LINK = hand(10, { do: 'link', machine: E1, cut: true });
const WARNED: Script = [
  [9, { do: 'stop', machine: E1 }],
  [14, { do: 'warned-start', machine: E1 }],
];

/** Signals at a time, rounded to whole numbers. */
const show =
  (t: number, ...signals: readonly string[]): See =>
  (samples) =>
    signals.map((signal) => Math.round(at(samples, t)[signal] ?? Number.NaN));
const really =
  (...quantities: readonly string[]): See =>
  (_samples, truth) =>
    quantities.map((quantity) => Math.round(truth[quantity] ?? Number.NaN));

export const TRIED: Readonly<Record<Fault, Tried>> = {
  'wrong-set-point': [RAMP, 19, show(18.2, 'E1.tripped'), [1], [0]],
  'set-point-below-limit': [RAMP, 19, show(17.7, 'E1.tripped'), [1], [0]],
  'stop-too-early': [HELD, 16, show(16, 'E1.tripped'), [0], [1]],
  'alarm-too-early': [step(12, 94), 15, show(15, 'E1.underspeed-alarm'), [0], [1]],
  'alarm-too-late': [step(12, 87), 15, show(15, 'E1.underspeed-alarm'), [1], [0]],
  'alarm-missing': [STEP, 16, show(16, 'E1.underspeed-alarm', 'E1.horn', 'E1.tripped'), [1, 1, 1], [0, 0, 1]],
  'alarm-delayed': [HELD, 15, show(15, 'E1.underspeed-alarm'), [1], [0]],
  'alarm-without-shutdown': [STEP, 16, show(16, 'E1.underspeed-alarm', 'E1.tripped'), [1, 1], [1, 0]],
  'delay-too-long': [STEP, 15, show(15, 'E1.tripped'), [1], [0]],
  'delay-too-short': [STEP, 13, show(12.8, 'E1.tripped'), [0], [1]],
  'delay-accumulates': [
    [
      ...step(12, 70),
      ...[12.7, 14.7, 16.7].flatMap(
        (t): Script => [
          [t, { do: 'step', machine: E1, percent: 100 }],
          [t + 1.3, { do: 'step', machine: E1, percent: 70 }],
        ],
      ),
    ],
    18.6,
    show(18.6, 'E1.tripped'),
    [0],
    [1],
  ],
  'inhibit-too-long': [STEP, 16, show(16, 'E1.tripped', 'E1.start-inhibit'), [1, 5], [0, 60]],
  'inhibit-too-short': [NOTHING, 5, show(5, 'E1.tripped'), [0], [1]],
  'alarm-not-masked': [NOTHING, 3, show(3, 'E1.underspeed-alarm'), [0], [1]],
  'pulse-loss-ignored': [
    hand(12, { do: 'block', machine: E1, target: 'all' }),
    14,
    show(14, 'E1.tripped', 'E1.shaft-speed'),
    [1, 0],
    [0, 96],
  ],
  'input-aliasing': [STEP, 18, show(18, 'E1.tripped'), [1], [0]],
  'shafts-swapped': [
    hand(10, { do: 'slip', machine: E1, share: 0.25 }),
    10.8,
    show(10.8, 'E1.shaft-speed', 'E1.head-speed'),
    [72, 96],
    [96, 72],
  ],
  'normal-learned-slipping': [
    NOTHING,
    9,
    show(9, 'E1.normal-speed', 'E1.shaft-speed', 'E1.head-speed'),
    [96, 96, 96],
    [83, 83, 96],
  ],
  'scan-overrun': [NOTHING, 8, (samples) => at(samples, 8)['E1.heartbeat']! > 390, true, false],
  'wrong-scale': [HEAT, 25, show(25, 'E1.bearing-alarm', 'E1.tripped'), [1, 1], [1, 0]],
  'bearing-alarm-missing': [HEAT, 25, show(25, 'E1.bearing-alarm', 'E1.tripped'), [1, 1], [0, 1]],
  'bearing-stop-missing': [HEAT, 25, show(25, 'E1.bearing-alarm', 'E1.tripped'), [1, 1], [1, 0]],
  'filter-too-slow': [HEAT, 21, show(20.2, 'E1.tripped'), [1], [0]],
  'probe-stuck': [HEAT, 25, show(25, 'E1.bearing-temperature', 'E1.tripped'), [84, 1], [38, 0]],
  'wire-break-ignored': [
    hand(10, { do: 'probe-wire', machine: E1, broken: true }),
    12,
    show(12, 'E1.sensor-fault', 'E1.bearing-alarm', 'E1.tripped'),
    [1, 1, 1],
    [0, 0, 0],
  ],
  'alignment-alarm-missing': [SCREW, 14, show(14, 'E1.alignment-alarm', 'E1.tripped'), [1, 1], [0, 1]],
  'alignment-stop-missing': [SCREW, 20, show(20, 'E1.alignment-alarm', 'E1.tripped'), [1, 1], [1, 0]],
  'alignment-delay-too-long': [SCREW, 14, show(14, 'E1.tripped'), [1], [0]],
  'alignment-inverted': [NOTHING, 9, show(9, 'E1.tripped', 'E1.alignment-contact'), [0, 0], [1, 0]],
  'alignment-jumpered': [
    SCREW,
    14,
    show(14, 'E1.alignment-contact', 'E1.alignment', 'E1.tripped'),
    [1, 1, 1],
    [0, 0, 0],
  ],
  'alignment-forced': [
    SCREW,
    14,
    show(14, 'E1.alignment-contact', 'E1.alignment', 'E1.tripped', 'E1.force'),
    [1, 1, 1, 0],
    [1, 0, 0, 0],
  ],
  'wire-break-reads-aligned': [WIRE, 14, show(14, 'E1.alignment', 'E1.tripped'), [1, 1], [0, 0]],
  'shutdown-not-wired': [
    STEP,
    18,
    show(18, 'E1.tripped', 'E1.run-command', 'E1.motor-running', 'E1.head-speed'),
    [1, 0, 0, 0],
    [1, 0, 1, 96],
  ],
  'motor-runs-on': [STEP, 18, show(18, 'E1.motor-running', 'E1.head-speed'), [0, 0], [0, 96]],
  'feedback-from-command': [STEP, 18, show(18, 'E1.motor-running', 'E1.head-speed'), [0, 0], [0, 96]],
  'contactor-sticks': [STEP, 14.5, show(14.5, 'E1.run-command', 'E1.motor-running'), [0, 0], [0, 1]],
  'coasts-too-long': [STEP, 20, (samples) => at(samples, 20)['E1.head-speed']! > 50, false, true],
  'shutdown-without-alarm': [SCREW, 14, show(14, 'E1.alignment-alarm', 'E1.tripped'), [1, 1], [0, 1]],
  'horn-not-wired': [SCREW, 14, really('E1.horn-sounds'), [1], [0]],
  'alarm-pulse': [HELD, 14, show(14, 'E1.underspeed-alarm', 'E1.alarm-count'), [1, 1], [0, 1]],
  'alarm-chatters': [
    [...HELD, [14, { do: 'step', machine: E1, percent: 100 }]],
    16,
    show(16, 'E1.underspeed-alarm', 'E1.alarm-count'),
    [1, 1],
    [0, 1],
  ],
  'another-machine-trips': [STEP, 16, show(16, 'E1.tripped', 'C2.tripped'), [1, 0], [0, 1]],
  'stops-neighbour-too': [STEP, 16, show(16, 'E1.tripped', 'C2.tripped'), [1, 0], [1, 1]],
  'alarm-on-another-machine': [
    HELD,
    16,
    show(16, 'E1.underspeed-alarm', 'C2.underspeed-alarm'),
    [1, 0],
    [0, 1],
  ],
  'trips-without-cause': [NOTHING, 24, show(24, 'E1.tripped', 'E1.trip-count'), [0, 0], [1, 1]],
  'cascade-missing': [SCREW, 25, show(25, 'E1.motor-running', 'F1.motor-running'), [0, 0], [0, 1]],
  'cascade-late': [SCREW, 15, show(15, 'E1.motor-running', 'F1.motor-running'), [0, 0], [0, 1]],
  'wrong-stop-order': [SCREW, 14, show(14, 'E1.motor-running', 'F1.motor-running'), [0, 0], [0, 1]],
  'gate-stays-open': [SCREW, 20, show(20, 'F1.motor-running', 'F1.gate-closed'), [0, 1], [0, 0]],
  'feeder-restarts': [SCREW, 20, show(20, 'E1.motor-running', 'F1.motor-running'), [0, 0], [0, 1]],
  'start-permissive-missing': [
    [...SCREW, [16, { do: 'start', machine: 'F1' }]],
    18,
    show(18, 'F1.motor-running'),
    [0],
    [1],
  ],
  'start-warning-missing': [WARNED, 15, show(15, 'E1.start-warning', 'E1.run-command'), [1, 0], [0, 1]],
  'start-warning-too-short': [WARNED, 16, show(16, 'E1.start-warning', 'E1.run-command'), [1, 0], [0, 1]],
  'releases-on-recovery': [RAMP, 33, show(33, 'E1.tripped', 'E1.run-command'), [1, 0], [0, 1]],
  'auto-restart': [RAMP, 37, show(37, 'E1.tripped', 'E1.run-command'), [0, 0], [0, 1]],
  'starts-on-held-button': [
    [
      ...SCREW,
      [13, { do: 'screw', machine: E1, turned: false }],
      [13.5, { do: 'start', machine: E1, seconds: 5 }],
      [14, { do: 'reset', machine: E1 }],
    ],
    17,
    show(17, 'E1.tripped', 'E1.run-command'),
    [0, 0],
    [0, 1],
  ],
  'reset-with-cause-present': [
    [...WIRE, [14, { do: 'reset', machine: E1 }]],
    16,
    show(16, 'E1.tripped'),
    [1],
    [0],
  ],
  'latch-lost-on-restart': [
    [...SCREW, [13, { do: 'screw', machine: E1, turned: false }], [14, { do: 'power-cycle' }]],
    18,
    show(18, 'E1.tripped', 'E1.first-out', 'E1.alignment-alarm'),
    [1, 4, 1],
    [0, 0, 0],
  ],
  'restarts-on-power-return': [
    hand(10, { do: 'power-cycle', seconds: 2 }),
    16,
    show(16, 'E1.run-command', 'E1.motor-running', 'F1.run-command'),
    [0, 0, 0],
    [1, 1, 0],
  ],
  'normal-lost-on-restart': [hand(10, { do: 'power-cycle' }), 13, show(13, 'E1.normal-speed'), [96], [60]],
  'silence-resets': [
    [...SCREW, [14, { do: 'silence', machine: E1 }]],
    15,
    show(15, 'E1.horn', 'E1.alignment-alarm', 'E1.tripped'),
    [0, 1, 1],
    [0, 0, 0],
  ],
  'horn-left-silenced': [
    SCREW,
    11,
    show(11, 'E1.horn', 'E1.silenced', 'E1.alignment-alarm'),
    [1, 0, 1],
    [0, 1, 1],
  ],
  'horn-does-not-resound': [
    [...HELD, [14, { do: 'silence', machine: E1 }], [16, { do: 'screw', machine: E1, turned: true }]],
    17,
    (samples) => [...[13, 15, 17].map((t) => at(samples, t)['E1.horn'])],
    [1, 0, 1],
    [1, 0, 0],
  ],
  'first-out-wrong': [SCREW, 14, show(14, 'E1.first-out'), [4], [3]],
  'bypass-left-on': [SCREW, 14, show(14, 'E1.bypass', 'E1.tripped'), [0, 1], [1, 0]],
  'bypass-invisible': [SCREW, 14, show(14, 'E1.bypass', 'E1.tripped'), [0, 1], [0, 0]],
  'bypass-never-expires': [
    [
      [9, { do: 'bypass', machine: E1, on: true, seconds: 4 }],
      [15, { do: 'screw', machine: E1, turned: true }],
    ],
    19,
    (samples) => [at(samples, 10.5)['E1.bypass-remaining'], at(samples, 19)['E1.tripped']],
    [3, 1],
    [3, 0],
  ],
  'link-loss-ignored': [
    LINK,
    14,
    (samples, truth) => [
      ...(show(14, 'E1.tripped', 'E1.shaft-speed')(samples, truth) as number[]),
      truth['E1.powered'],
    ],
    [1, 96, 0],
    [0, 96, 1],
  ],
  'outputs-hold-on-link-loss': [
    LINK,
    14,
    (samples, truth) => [
      ...(show(14, 'E1.tripped', 'E1.first-out')(samples, truth) as number[]),
      truth['E1.powered'],
    ],
    [1, 7, 0],
    [1, 7, 1],
  ],
  'trip-bit-silent': [
    SCREW,
    20,
    show(20, 'E1.tripped', 'E1.run-command', 'E1.first-out'),
    [1, 0, 4],
    [0, 0, 4],
  ],
  'trip-bit-late': [
    SCREW,
    20,
    (samples) => Math.round(when(samples, 'E1.tripped', 1) - when(samples, 'E1.run-command', 0, 9)),
    0,
    3,
  ],
  'trip-bit-stuck-on': [NOTHING, 9, show(9, 'E1.tripped', 'E1.motor-running'), [0, 1], [1, 1]],
  'alarm-already-on': [NOTHING, 9, show(9, 'E1.underspeed-alarm', 'E1.horn'), [0, 0], [1, 1]],
  'speed-frozen': [STEP, 16, show(16, 'E1.shaft-speed', 'E1.tripped'), [67, 1], [96, 1]],
  'values-repeated': [
    STEP,
    18,
    (samples) => [
      at(samples, 18)['E1.motor-running'],
      at(samples, 18)['E1.heartbeat']! > at(samples, 17)['E1.heartbeat']!,
    ],
    [0, true],
    [1, true],
  ],
  'image-frozen': [
    STEP,
    18,
    (samples) => [
      at(samples, 18)['E1.motor-running'],
      at(samples, 18)['E1.heartbeat']! > at(samples, 17)['E1.heartbeat']!,
      at(samples, 18)['C2.heartbeat']! > at(samples, 17)['C2.heartbeat']!,
    ],
    [0, true, true],
    [1, false, false],
  ],
  'temperature-in-fahrenheit': [
    NOTHING,
    9,
    show(9, 'E1.bearing-temperature', 'E1.tripped'),
    [38, 0],
    [100, 0],
  ],
  'speed-times-ten': [NOTHING, 9, (samples) => at(samples, 9)['E1.shaft-speed']! > 900, false, true],
  'wrong-sensor': [NOTHING, 9, show(9, 'E1.shaft-speed', 'E1.tripped'), [96, 0], [60, 0]],
  'operator-stops': [STEP, 16, show(16, 'E1.run-command', 'E1.tripped'), [0, 1], [0, 0]],
  'local-isolator': [
    STEP,
    18,
    show(18, 'E1.run-command', 'E1.motor-running', 'E1.head-speed'),
    [0, 0, 0],
    [1, 1, 0],
  ],
  'overload-trips': [
    STEP,
    18,
    (samples) => [at(samples, 14)['E1.tripped'], at(samples, 18)['E1.first-out']],
    [1, 1],
    [0, 6],
  ],
  'set-point-changed': [STEP, 14, show(14, 'E1.stop-set-point', 'E1.revision'), [82, 41], [78, 41]],
  'timer-changed': [STEP, 14, show(14, 'E1.stop-delay', 'E1.revision'), [1, 41], [3, 41]],
  'normal-changed': [STEP, 14, show(14, 'E1.normal-speed', 'E1.revision'), [96, 41], [108, 41]],
};
