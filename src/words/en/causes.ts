/** How a cause is worded; it follows "acts when", and stands alone. `{level}`: a phrase. */
export const CAUSES = {
  'cause-below': '{signal} is below {level}',
  'cause-above': '{signal} is above {level}',
  'cause-contact': '{signal} goes to {state}',
  'cause-no-pulses': 'no pulse of {signal} comes for {after:seconds}',
  'cause-band':
    '{signal} is held for {hold:seconds} between {near}, the edge nearer to normal, and {far}, beyond neither',
  'cause-sensor-fault':
    'the sensor of {signal} is declared faulty (a wire-break, a short circuit, a fault code in place of a value)',
  'cause-silent': 'nothing is heard of {signal} for {after:seconds}',
  'cause-stuck': '{signal}, which should move, moves by no more than {within:step} for {after:seconds}',
  'cause-restart': 'the count {signal} begins anew: the program of the controller was started again',
  'cause-all-of': 'all of these are there at once: {causes:group}',
  'cause-any-of': 'any of these is there: {causes:group}',
  'cause-some-of': '{need} of these {count} are there at once: {causes:group}',
  'cause-allowed': '{cause}, allowed {allowed:band}',

  'level-normal': 'normal',
  'level-nameplate': 'nameplate',
  'level-tag': 'the value of {signal}',
  'level-tag-unknown': 'a tag not known',
  'level-share-of-normal': '{percent} % of normal',
  'level-share-of-nameplate': '{percent} % of nameplate',
  'level-share': '{percent} % of {level}',

  'state-number': 'state {state}',
  'signal-unknown': 'a signal not known',
} as const;
