/** What to do where a protection did not act. */
const ABSENT =
  'stop the machine by its normal stop or emergency stop, keep people clear, take it out of service, report the impairment';

/** What is printed on every report; those that begin with `precaution` are confirmed before a guided window is opened. */
export const CAUTIONS = {
  'precaution-observes-only':
    'This tool observes. It does not protect, trip, reset or lock out anything. A pass shows behaviour in one window, on one program revision.',
  'precaution-lock-out':
    'Lock out and tag out before reaching in, adjusting or cleaning. Where a test needs power: clear tools, clear people, remove locks, energise, test, de-energise, lock again.',
  'precaution-run-empty': 'Run empty. Stop the feed first. Never jog to free a choked leg.',
  'precaution-guards-on': 'Guards on. Never defeat a guard to reach a sensor: nip points, stored tension.',
  'precaution-ignition':
    'Heat guns, flames, unrated testers and unrated tablets are ignition sources in dust. Housekeeping first, then a hot-work permit; a dry block or substitution instead.',
  'caution-hot': 'Hot bearings and rub blocks burn.',
  'precaution-warn-before-start':
    'Warn and check the line before any start; warn again if the start is late.',
  'precaution-no-bypass':
    'Never bypass in production for a test. Where it cannot be avoided: authorised, limited in time, attended, announced, logged, removed, tested again.',
  'caution-no-isolation': 'An emergency stop is not a lock-out. A stop station is not isolation.',
  'caution-forcing': 'Forcing can move machinery. Keep people clear. Forces stay when the laptop leaves.',
  'caution-electrical':
    'Electrical work by qualified persons only. Mind falls and confined spaces: head-house, pits, bins.',
  'precaution-stop-at-hand': `If a required shutdown does not occur: ${ABSENT}.`,
  'caution-after':
    'After the test: targets and covers back, bypasses off, no forces, set points as intended, horn sounding again, operators told.',
  'precaution-local-rules':
    'Local codes, the makers’ instructions and the safety case of the site prevail. Qualified persons only.',
  'stop-failed-at-once': `This stop failed. At once: ${ABSENT}.`,
} as const;
