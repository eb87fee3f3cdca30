/** What can be wrong with the plant, by name; planted at the start or by a change of program. */
export const FAULTS = {
  'wrong-set-point': 'leg 1 stops at 76 % of normal instead of 82 %',
  'wrong-scale':
    'leg 1 compares a bearing temperature that is scaled by 0.9, and stops at 88.9 degC instead of 80',
  'shutdown-not-wired': 'the shutdown output of leg 1 is not wired: the command drops, the motor runs on',
  'alarm-missing': 'leg 1 gives no underspeed alarm',
  'delay-too-long': 'the underspeed stop of leg 1 waits 4 s instead of 1 s',
  'releases-on-recovery': 'the trip of leg 1 is not latched: it runs again when the cause clears',
  'another-machine-trips': 'an underspeed of leg 1 stops belt 2 instead of leg 1',
  'bypass-left-on': 'the bypass of leg 1 was left on',
  'auto-restart': 'leg 1 starts by itself after a reset',
  'normal-learned-slipping': 'leg 1 learned its normal speed while the belt slipped',
  'cascade-missing': 'the feeder runs on when leg 1 stops',
  'alignment-stop-missing': 'leg 1 alarms on a displaced belt, but does not stop',
  'motor-runs-on': 'the main contacts of leg 1 are welded: the feedback drops, the motor runs on',
} as const;

export type Fault = keyof typeof FAULTS;

export const isFault = (name: string): name is Fault => Object.hasOwn(FAULTS, name);
