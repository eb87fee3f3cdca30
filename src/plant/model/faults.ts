/** What can be wrong with the plant, by name; planted at the start or by a change of program. */
export const FAULTS = {
  // Speed.
  'wrong-set-point': 'leg 1 stops at 76 % of normal instead of 82 %',
  'set-point-below-limit': 'leg 1 stops at 79.5 % of normal: close to its limit of 80 %, on the wrong side',
  'stop-too-early': 'leg 1 stops at 88 % of normal instead of 82 %',
  'alarm-too-early': 'the underspeed alarm of leg 1 comes at 96 % of normal instead of 90 %',
  'alarm-too-late': 'the underspeed alarm of leg 1 comes at 84 % of normal instead of 90 %',
  'alarm-missing': 'leg 1 gives no underspeed alarm',
  'alarm-delayed': 'the underspeed alarm of leg 1 waits 4 s instead of coming at once',
  'alarm-without-shutdown': 'leg 1 alarms on underspeed, but does not stop',
  'delay-too-long': 'the underspeed stop of leg 1 waits 4 s instead of 1 s',
  'delay-too-short': 'the underspeed stop of leg 1 waits 0.2 s instead of 1 s',
  'delay-accumulates':
    'the delay of the underspeed stop of leg 1 adds up over many dips instead of beginning again',
  'inhibit-too-long': 'the start-up inhibit of leg 1 lasts 60 s instead of 5 s',
  'inhibit-too-short': 'the start-up inhibit of leg 1 lasts 0.5 s instead of 5 s: it stops while it runs up',
  'alarm-not-masked': 'the underspeed alarm of leg 1 also comes whenever the leg is started or stopped',
  'pulse-loss-ignored': 'leg 1 keeps the last speed when its pulses cease, and does not stop',
  'input-aliasing':
    'leg 1 looks at its speed input every 190 ms and stops where it sees no change: near 82 % and at rest',
  'shafts-swapped': 'the speed sensors of leg 1 are swapped: head shaft on the input of the belt shaft',
  'normal-learned-slipping': 'leg 1 learned its normal speed while the belt slipped',
  'scan-overrun': 'the cycle of the controller takes 700 ms instead of 20 ms',
  // Temperature.
  'wrong-scale':
    'leg 1 compares a bearing temperature that is scaled by 0.9, and stops at 88.9 degC instead of 80',
  'bearing-alarm-missing': 'leg 1 stops on a hot bearing, but gives no bearing alarm',
  'bearing-stop-missing': 'leg 1 alarms on a hot bearing, but does not stop',
  'filter-too-slow': 'leg 1 judges a bearing temperature that is filtered over 20 s',
  'probe-stuck': 'the temperature card of leg 1 holds its last value, and nothing notices',
  'wire-break-ignored': 'a broken wire of the bearing probe of leg 1 reads cold, and nothing notices',
  // Alignment.
  'alignment-alarm-missing': 'leg 1 stops on a displaced belt, but gives no alignment alarm',
  'alignment-stop-missing': 'leg 1 alarms on a displaced belt, but does not stop',
  'alignment-delay-too-long': 'the alignment stop of leg 1 waits 10 s instead of 2 s',
  'alignment-inverted': 'the alignment contact of leg 1 is read the wrong way round',
  'alignment-jumpered': 'a jumper bridges the alignment switch of leg 1: the input always reads aligned',
  'alignment-forced':
    'the alignment bit of leg 1 is forced to aligned, whatever its contact says, and no force is shown',
  'wire-break-reads-aligned':
    'the alignment switch of leg 1 closes on a displaced belt: a broken wire reads aligned',
  // What must come of it.
  'shutdown-not-wired': 'the shutdown output of leg 1 is not wired: the command drops, the motor runs on',
  'motor-runs-on': 'the main contacts of leg 1 are welded: the feedback drops, the motor runs on',
  'feedback-from-command':
    'the running feedback of leg 1 is made from the command, whose output is not wired: the motor runs on',
  'contactor-sticks': 'the contactor of leg 1 opens 3 s after its command',
  'coasts-too-long': 'leg 1 coasts for 40 s instead of 3 s',
  'shutdown-without-alarm': 'leg 1 stops without any alarm',
  'horn-not-wired': 'the horn of leg 1 is not wired: its output is on, nobody hears it',
  'alarm-pulse': 'the underspeed alarm of leg 1 shows for a single scan',
  'alarm-chatters': 'the underspeed alarm of leg 1 comes and goes with the speed instead of staying',
  'another-machine-trips': 'an underspeed of leg 1 stops belt 2 instead of leg 1',
  'stops-neighbour-too': 'an underspeed of leg 1 stops belt 2 as well',
  'alarm-on-another-machine': 'an underspeed of leg 1 alarms at belt 2 instead of leg 1',
  'trips-without-cause': 'leg 1 trips 20 s after its start, without a cause',
  'cascade-missing': 'the feeder runs on when leg 1 stops',
  'cascade-late': 'the feeder stops 6 s after leg 1',
  'wrong-stop-order': 'the feeder waits until leg 1 stands still, instead of stopping with it',
  'gate-stays-open': 'the gate of the feeder stays open when the feeder stops',
  'feeder-restarts': 'the feeder starts again by itself 5 s after leg 1 has stopped it',
  'start-permissive-missing': 'the feeder can be started while leg 1 stands still',
  'start-warning-missing': 'a warned start of leg 1 gives no warning',
  'start-warning-too-short': 'a warned start of leg 1 warns for 1 s instead of 5 s',
  // Latch, reset, horn, bypass, power, remote input and output.
  'releases-on-recovery': 'the trip of leg 1 is not latched: it runs again when the cause clears',
  'auto-restart': 'leg 1 starts by itself after a reset',
  'starts-on-held-button': 'leg 1 starts after a reset where the start button is still held',
  'reset-with-cause-present': 'leg 1 takes a reset while the cause of the trip is still present',
  'latch-lost-on-restart': 'leg 1 forgets its trip when the controller restarts',
  'restarts-on-power-return': 'leg 1 starts by itself when the controller has power again',
  'normal-lost-on-restart': 'leg 1 falls back to a normal speed of 60 rpm when the controller restarts',
  'silence-resets': 'silencing the horn of leg 1 clears trip and alarms too',
  'horn-left-silenced': 'the horn of leg 1 was silenced before, and stays silent',
  'horn-does-not-resound': 'the horn of leg 1, once silenced, does not sound for a new alarm',
  'first-out-wrong': 'leg 1 shows a hot bearing as first cause, whatever the cause was',
  'bypass-left-on': 'the bypass of leg 1 was left on',
  'bypass-invisible': 'leg 1 is bypassed, and does not show it',
  'bypass-never-expires': 'the bypass of leg 1 does not end when its time is over',
  'link-loss-ignored': 'leg 1 keeps the last inputs when its remote rack is lost, and runs on',
  'outputs-hold-on-link-loss': 'the remote rack of leg 1 holds its outputs when the link is lost',
  // What is shown.
  'trip-bit-silent': 'leg 1 stops, and does not show that it tripped',
  'trip-bit-late': 'leg 1 shows that it tripped 3 s after it did',
  'trip-bit-stuck-on': 'leg 1 shows a trip all the time',
  'alarm-already-on': 'the underspeed alarm of leg 1 and its horn are on all the time',
  'speed-frozen': 'the speed register of leg 1 is no longer renewed once the leg runs',
  'values-repeated':
    'a gateway repeats the old values of leg 1 once the leg runs, while the heartbeat goes on',
  'image-frozen': 'the controller shows no news once leg 1 runs: registers and heartbeat stand still',
  'temperature-in-fahrenheit': 'the bearing temperature of leg 1 is shown in degF instead of degC',
  'speed-times-ten': 'the speed of leg 1 is shown ten times too high',
  'wrong-sensor': 'the speed register of leg 1 shows the shaft of belt 2',
  // People.
  'operator-stops':
    'the interlocks of leg 1 do nothing: somebody stops it at a desk without a tag, at the same moment',
  'local-isolator': 'the interlocks of leg 1 do nothing: somebody opens its isolator, at the same moment',
  'overload-trips': 'leg 1 does not stop on underspeed; its motor overload trips 3 s later',
  'set-point-changed': 'somebody lowers the stop of leg 1 to 78 % while it is tested, without a new revision',
  'timer-changed': 'somebody sets the delay of leg 1 to 3 s while it is tested, without a new revision',
  'normal-changed': 'somebody raises the normal speed of leg 1 by an eighth while it is tested',
} as const;

export type Fault = keyof typeof FAULTS;

export const isFault = (name: string): name is Fault => Object.hasOwn(FAULTS, name);
