import type { Subject } from './facts.ts';

/** What the trade does, where no rule that we have read says so. */
const PRACTICE = 'common practice, no source';

const from = (text: string, source = PRACTICE): string => `${text} (${source}).`;

/** What to do where a protection did not act; also printed beside every stop that failed. */
const ABSENT =
  'stop the machine by its normal stop or emergency stop, keep people clear, take it out of service, report the impairment';

/** Printed on every report, each with the rule that says so, where there is one. */
export const CAUTIONS: readonly string[] = [
  from(
    'This tool observes. It does not protect, trip, reset or lock out anything. A pass shows behaviour in one window, on one program revision',
    'limit of this program',
  ),
  from(
    'Lock out and tag out before reaching in, adjusting or cleaning. Where a test needs power: clear tools, clear people, remove locks, energise, test, de-energise, lock again',
    '29 CFR 1910.147(f)(1), 1926.555(a)(7)',
  ),
  from(
    'Run empty. Stop the feed first. Never jog to free a choked leg',
    '29 CFR 1910.272(q) forbids jogging',
  ),
  from('Guards on. Never defeat a guard to reach a sensor: nip points, stored tension'),
  from(
    'Heat guns, flames, unrated testers and unrated tablets are ignition sources in dust. Housekeeping first, then a hot-work permit; a dry block or substitution instead',
    'ISA-RP12.12.03',
  ),
  from('Hot bearings and rub blocks burn'),
  from(
    'Warn and check the line before any start; warn again if the start is late',
    '30 CFR 57.14201, 29 CFR 1926.555',
  ),
  from(
    'Never bypass in production for a test. Where it cannot be avoided: authorised, limited in time, attended, announced, logged, removed, tested again',
    '30 CFR 56.4503 and 57.4503',
  ),
  from('An emergency stop is not a lock-out. A stop station is not isolation', 'South African conveyor code'),
  from(
    'Forcing can move machinery. Keep people clear. Forces stay when the laptop leaves',
    'documentation of controllers',
  ),
  from('Electrical work by qualified persons only. Mind falls and confined spaces: head-house, pits, bins'),
  from(`If a required shutdown does not occur: ${ABSENT}`),
  from(
    'After the test: targets and covers back, bypasses off, no forces, set points as intended, horn sounding again, operators told',
    'principles of proof testing, United Kingdom',
  ),
  from(
    'Local codes, the makers’ instructions and the safety case of the site prevail. Qualified persons only',
  ),
];

/** The same where room is short: what is common practice is said of them all at the end. */
export const CAUTIONS_IN_SHORT: readonly string[] = [
  ...CAUTIONS.map((one) => one.replace(` (${PRACTICE})`, '')),
  `No rule named: ${PRACTICE}.`,
];

/** What to do at once where a stop failed; undefined where it did not, or where nothing is to stop. */
export const atOnceText = ({ interlock, report }: Subject): string | undefined => {
  const stops = interlock.effects.some(
    (one) => one.class !== 'alarm' && one.becomes.kind !== 'stays' && !one.cascade,
  );
  return stops && report.verdict.outcome === 'fail'
    ? from(`This stop failed. At once: ${ABSENT}`)
    : undefined;
};

/** How to read every figure of a report. */
export const READING_RULES: readonly string[] = [
  'Between two readings a signal is taken as monotone: it is taken to lie between the two.',
  'A change first seen in a reading happened after the reading before it and no later than that reading.',
  'Pass only where the whole interval is inside; fail only where it is wholly outside; anything else is inconclusive. An interlock with another decision rule names it.',
  'A missing reading is a gap with a reason. An old value is never held.',
];
