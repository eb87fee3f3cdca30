/** What an interlock waits for. */
export const WAITS = {
  'not-armed':
    'Waits: {signal} must be {state}, and stay so until the start-up time is over ({remaining:s} left).',
  'baseline-settling': 'Waits: everything must stay quiet for another {remaining:s}.',
  'normal-unsteady':
    'Waits: {signal} is not steady enough to learn its normal (spread {spread:share}, at most {allowed:share}). Let it run undisturbed.',
  'normal-unknown': 'Waits: the normal of {signal} is not known. Let the machine run, or give a normal.',
  'cause-not-clear': 'Waits: {signal} must return to its clear band[ (now {value:unit})].',
  'effect-already-there':
    '{effect} is already there. Reset it before the next trial, or it will not be tested.',
  'bypass-active': 'Waits: {signal} says that the protection is bypassed. Take the bypass off.',
  'force-active': 'Waits: {signal} says that a value is forced. Take the force off.',
  'trip-latched': 'Waits: {signal} is still tripped. Reset it.',
  'no-reading': 'Waits: no reading of {signal} ({absence:absence}). Check the source.',
  'stop-active': 'Waits: {signal} says that a stop button is pressed. Release it.',
  'horn-silenced':
    '{signal} says that the horn is silenced: a new alarm may not be heard. End the silence before the horn is tested.',
  'window-not-open': 'Waits: no test window is open.',
  'moved-unready': 'The cause moved before the interlock was ready. This movement counts for nothing.',
} as const;
