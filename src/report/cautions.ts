import { PRACTICE, ruleBehind, text } from '../words/index.ts';
import type { Subject } from './facts.ts';

const withRule = (code: string): string =>
  text({ code, params: {} }).replace(/\.$/, ` (${ruleBehind(code)}).`);

/** Printed on every report, in this order. */
const CODES = [
  'precaution-observes-only',
  'precaution-lock-out',
  'precaution-run-empty',
  'precaution-guards-on',
  'precaution-ignition',
  'caution-hot',
  'precaution-warn-before-start',
  'precaution-no-bypass',
  'caution-no-isolation',
  'caution-forcing',
  'caution-electrical',
  'precaution-stop-at-hand',
  'caution-after',
  'precaution-local-rules',
];

/** The same with the rule that says so, where there is one. */
export const CAUTIONS: readonly string[] = CODES.map(withRule);

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
  return stops && report.verdict.outcome === 'fail' ? withRule('stop-failed-at-once') : undefined;
};

/** How to read every figure of a report. */
export const READING_RULES: readonly string[] = [
  'Between two readings a signal is taken as monotone: it is taken to lie between the two.',
  'A change first seen in a reading happened after the reading before it and no later than that reading.',
  'Pass only where the whole interval is inside; fail only where it is wholly outside; anything else is inconclusive. An interlock with another decision rule names it.',
  'A missing reading is a gap with a reason. An old value is never held.',
];
