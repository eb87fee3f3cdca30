/** Printed on every report. Common practice, with the rule that says so where there is one. */
export const CAUTIONS: readonly string[] = [
  'This tool observes. It does not protect, trip, reset or lock out anything. A pass shows behaviour in one window, on one program revision.',
  'Lock out and tag out before reaching in, adjusting or cleaning. Where a test needs power: clear tools, clear people, remove locks, energise, test, de-energise, lock again (29 CFR 1910.147(f)(1)).',
  'Run empty. Stop the feed first. Never jog to free a choked leg.',
  'Guards on. Never defeat a guard to reach a sensor: nip points, stored tension.',
  'Heat guns, flames and unrated devices are ignition sources in dust. Hot-work permit, housekeeping first; a dry block or substitution instead.',
  'Hot bearings and rub blocks burn.',
  'Warn and check the line before any start; warn again if the start is late (29 CFR 1926.555).',
  'Never bypass in production for a test. Where it cannot be avoided: authorised, limited in time, attended, announced, logged, removed, tested again.',
  'An emergency stop is not a lock-out. A stop station is not isolation.',
  'Forcing can move machinery. Keep people clear. Forces stay when the laptop leaves.',
  'Electrical work by qualified persons only. Mind falls and confined spaces: head-house, pits, bins.',
  'If a required shutdown does not occur: stop the machine by its normal stop or emergency stop, keep people clear, take it out of service, report the impairment.',
  'After the test: targets and covers back, bypasses off, no forces, set points as intended, horn sounding again, operators told.',
  'Local codes, the makers’ instructions and the safety case of the site prevail. Qualified persons only.',
];

/** How to read every figure of a report. */
export const READING_RULES: readonly string[] = [
  'Between two readings a signal is taken as monotone: it is taken to lie between the two.',
  'A change first seen in a reading happened after the reading before it and no later than that reading.',
  'Pass only where the whole interval is inside; fail only where it is wholly outside; anything else is inconclusive. An interlock with another decision rule names it.',
  'A missing reading is a gap with a reason. An old value is never held.',
];
