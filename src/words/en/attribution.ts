/** What else could have brought an effect about, and what is missing from the evidence. */
export const ATTRIBUTION = {
  'attribution-clear': 'Nothing else that was watched could have brought the effects about.',
  'competing-cause': '{interlock} may have acted at the same time. Repeat with its cause certainly clear.',
  'stop-by-hand':
    '{signal} was pressed, or may have been, before the effect. Repeat without touching the stop.',
  'trip-bit-silent':
    'The machine stopped, but {signal} never said tripped: somebody or something else stopped it. Repeat and watch who stops it.',
  'hand-stop-not-excluded':
    'No stop button and no trip bit[ of {machine}] is readable: a stop by hand cannot be excluded. Add one of them, or have it attested that nobody pressed stop.',
  'press-not-excluded':
    '{signal} is read too seldom to exclude that somebody pressed it for a moment. Poll it faster than a finger, or latch it.',
  'arming-lost': '{signal} left its armed state before the effect. Repeat with the machine running steadily.',
  'bypass-during-trial': '{signal} shows a bypass, or may have, during the trial. Take it off and repeat.',
  'forced-during-trial':
    '{signal} was forced, or may have been, during the trial. Take the force off and repeat.',
  'attested-bypass': 'A bypass is attested by {by}.',
  'evidence-gap':
    'No reading of {signal} for {seconds:seconds} where it decides ({absence:absence}). Repeat with an unbroken connection.',
  'uncertain-value':
    'The server of {signal} called its value uncertain, or lost values before it, where it decides. Put that right and repeat.',
  'unlisted-change': '{signal} went to {state}, which no interlock expects here. Find out why, then repeat.',
  'other-machine-acted':
    '{signal} of {machine} went to {state}, which this interlock does not do. Check which machine it is wired to.',
  'acted-before-cause': '{effect} came before the cause reached its set point. Something else acted. Repeat.',
  'siblings-moved': '{signal} moved as well. Move one sensor only, and check that it is the right one.',
  'signal-too-still':
    '{signal} scattered before and shows one and the same value now, as if it had been written in the program. Move the sensor itself and repeat.',
  'raw-disagrees':
    '{shown} does not show what its raw input {raw} shows. Take the force off, or find out why, then repeat.',
  'setting-changed':
    '{signal} was changed during the trial[ (to {to})]. Put it right, record the change, and repeat.',
  'heartbeat-still': '{signal} stands still: the controller may not be scanning. Repeat while it counts.',
} as const;
