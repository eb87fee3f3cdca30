import type { Fault } from '../../src/plant/index.ts';

/** The interlocks of leg 1 that the campaign tries. */
export const INTERLOCKS = [
  'underspeed-alarm',
  'underspeed-stop',
  'pulse-loss-stop',
  'bearing-alarm',
  'bearing-stop',
  'misalignment-alarm',
  'misalignment-stop',
] as const;
export type Tried = (typeof INTERLOCKS)[number];
/** `hands`: while a trip stands the horn is silenced, power is cut, and start is held through the reset. */
export type Way = 'ramp' | 'step' | 'hold' | 'hands';

const SPEED: readonly Tried[] = ['underspeed-alarm', 'underspeed-stop'];
const PULSES: readonly Tried[] = ['underspeed-alarm', 'underspeed-stop', 'pulse-loss-stop'];
const BEARING: readonly Tried[] = ['bearing-alarm', 'bearing-stop'];
const ALIGNMENT: readonly Tried[] = ['misalignment-alarm', 'misalignment-stop'];
const ALARMS: readonly Tried[] = ['underspeed-alarm', 'bearing-alarm', 'misalignment-alarm'];
const STOPS: readonly Tried[] = ['underspeed-stop', 'pulse-loss-stop', 'bearing-stop', 'misalignment-stop'];

/** Faults that one way alone can show. */
export const ONLY_BY: Readonly<Partial<Record<Fault, Way>>> = {
  'delay-accumulates': 'hold',
  'starts-on-held-button': 'hands',
  'latch-lost-on-restart': 'hands',
  'silence-resets': 'hands',
};

/**
 * Which interlocks a fault makes wrong, or takes the evidence of: none of these may pass while it is planted. Faults
 * that the campaign's hands never touch (an early reset, a running machine's power, the remote rack, warned starts, wires, signals that
 * the site does not bind) concern none here.
 */
export const CONCERNS: Readonly<Record<Fault, readonly Tried[]>> = {
  'wrong-set-point': ['underspeed-stop'],
  'set-point-below-limit': ['underspeed-stop'],
  'stop-too-early': ['underspeed-stop'],
  'alarm-too-early': ['underspeed-alarm'],
  'alarm-too-late': ['underspeed-alarm'],
  'alarm-missing': ['underspeed-alarm'],
  'alarm-delayed': ['underspeed-alarm'],
  'alarm-without-shutdown': ['underspeed-stop'],
  'delay-too-long': ['underspeed-stop'],
  'delay-too-short': ['underspeed-stop'],
  'delay-accumulates': ['underspeed-stop'],
  'inhibit-too-long': PULSES,
  'inhibit-too-short': PULSES,
  'alarm-not-masked': ['underspeed-alarm'],
  'pulse-loss-ignored': ['pulse-loss-stop'],
  'input-aliasing': ['underspeed-stop'],
  'shafts-swapped': PULSES,
  'normal-learned-slipping': SPEED,
  'scan-overrun': ['underspeed-stop'],
  'wrong-scale': ['bearing-stop'],
  'bearing-alarm-missing': ['bearing-alarm'],
  'bearing-stop-missing': ['bearing-stop'],
  'filter-too-slow': BEARING,
  'probe-stuck': BEARING,
  'wire-break-ignored': [],
  'alignment-alarm-missing': ['misalignment-alarm'],
  'alignment-stop-missing': ['misalignment-stop'],
  'alignment-delay-too-long': ['misalignment-stop'],
  'alignment-inverted': ALIGNMENT,
  'alignment-jumpered': ALIGNMENT,
  'alignment-forced': ALIGNMENT,
  'wire-break-reads-aligned': [],
  'shutdown-not-wired': STOPS,
  'motor-runs-on': STOPS,
  'feedback-from-command': STOPS,
  'contactor-sticks': STOPS,
  'coasts-too-long': ['underspeed-stop'],
  'shutdown-without-alarm': ALARMS,
  'horn-not-wired': [],
  'alarm-pulse': ['underspeed-alarm'],
  'alarm-chatters': [],
  'another-machine-trips': ['underspeed-stop', 'pulse-loss-stop'],
  'stops-neighbour-too': ['underspeed-stop', 'pulse-loss-stop'],
  'alarm-on-another-machine': ['underspeed-alarm'],
  'trips-without-cause': ['underspeed-stop'],
  'cascade-missing': STOPS,
  'cascade-late': STOPS,
  'wrong-stop-order': STOPS,
  'gate-stays-open': [],
  'feeder-restarts': STOPS,
  'start-permissive-missing': [],
  'start-warning-missing': [],
  'start-warning-too-short': [],
  'releases-on-recovery': STOPS,
  'auto-restart': STOPS,
  'starts-on-held-button': ['misalignment-stop'],
  'reset-with-cause-present': [],
  'latch-lost-on-restart': ['misalignment-stop'],
  'restarts-on-power-return': [],
  'normal-lost-on-restart': [],
  'silence-resets': ['misalignment-stop'],
  'horn-left-silenced': ALARMS,
  'horn-does-not-resound': [],
  'first-out-wrong': [],
  'bypass-left-on': INTERLOCKS,
  'bypass-invisible': INTERLOCKS,
  'bypass-never-expires': [],
  'link-loss-ignored': [],
  'outputs-hold-on-link-loss': [],
  'trip-bit-silent': STOPS,
  'trip-bit-late': STOPS,
  'trip-bit-stuck-on': STOPS,
  'alarm-already-on': ALARMS,
  'speed-frozen': PULSES,
  'values-repeated': INTERLOCKS,
  'image-frozen': INTERLOCKS,
  'temperature-in-fahrenheit': BEARING,
  'speed-times-ten': PULSES,
  'wrong-sensor': PULSES,
  'operator-stops': STOPS,
  'local-isolator': STOPS,
  'overload-trips': ['underspeed-stop'],
  'set-point-changed': ['underspeed-stop'],
  'timer-changed': ['underspeed-stop'],
  'normal-changed': SPEED,
};
