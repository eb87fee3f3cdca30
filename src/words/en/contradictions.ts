/** Two things that cannot both be right. What is dangerous says what to do. */
export const CONTRADICTIONS = {
  'cause-without-effect':
    '{interlock} does not act: {signal} is certainly in its trip region, nothing is bypassed, and nothing has come. Stop the machine by its normal stop or emergency stop, keep people away, and take it out of service until this is explained.',
  'effect-left-out':
    '{interlock} acts only in part: {effect} has not come although {signal} is certainly in its trip region. Stop the machine by its normal stop or emergency stop, keep people away, and find out why.',
  'acted-without-cause':
    '{signal} went to {state}, and no cause that leads to it was there. Find out what acted before the machine is used again.',
  'acted-on-other-machine':
    '{signal} went to {state} while {interlock} has its cause on another machine: outputs may be crossed. Stop both machines and check the wiring and the program.',
  'trip-gone-without-reset':
    '{signal} went back to healthy although nobody pressed reset: the trip is not held. Keep the machine stopped and find out why.',
  'ran-again-without-start':
    '{signal} went to run after a trip although nobody pressed start. Stop the machine, keep people away, and find out why.',
  'runs-without-command':
    '{signal} shows that it still runs although the command is off. Use the emergency stop or the isolator, keep people away, and check the contactor or drive.',
  'bypass-too-long':
    '{signal} has been bypassed for longer than {hours} h. Take the bypass off, or attend the machine and record why it stays.',
  'setting-unrecorded':
    '{signal} changed[ to {to}], and nobody has recorded why. Record it, and prove again what depends on it.',
  'stop-without-alarm': '{signal} tripped without the alarm of {interlock} before it. Check the alarm.',
  'alarm-silenced-before':
    '{signal} was told to sound while {silence} kept it silent: people may not have heard it.',
} as const;
