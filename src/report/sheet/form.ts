import { SECOND } from '../../measure/index.ts';
import type { Book, Condition, InterlockId } from '../../rulebook/index.ts';
import { formatBand, formatSeconds, stepUnit } from '../../words/index.ts';
import { levelText } from '../cause-text.ts';
import { decisionText } from '../decision-text.ts';
import { mustStay, type Subject } from '../facts.ts';
import { referencesOf } from '../levels.ts';
import type { Field } from './record.ts';

/** What is written down before the first trial. */
export const beforeFields = [
  ['Date and zone', 'Area', 'Permit', 'Lockout'],
  ['Procedure', 'Method', 'Instrument', 'Serial', 'Calibration due'],
  ['Conditions', 'Revision at start', 'Normal value'],
  ['At the sensor', 'At the screen', 'At the final element'],
  ['Listening for the horn', 'Witness', 'Permit holder'],
] as const;

/** What is written down of one state of the interlock, as found and as left. */
export const foundFields = ['Time', 'Trip point', 'Response', 'Delay', 'Verdict'] as const;

/** What is written down at the end. */
export const afterFields = [
  ['Adjustment', 'Revision at end'],
  ['Follow-up', 'Work order'],
] as const;

const keyOf = (words: string): string =>
  words
    .toLowerCase()
    .replace(/[^a-z0-9.]+/g, '-')
    .replace(/^-|-$/g, '');

/** The names under which the values of a sheet are entered later: the words on their boxes, with dashes. */
export const sheetKeys = (book: Book, interlock: InterlockId): readonly string[] => {
  const effects = book.interlocks[interlock]?.effects.map(({ name }) => name) ?? [];
  const found = [...foundFields, ...effects];
  return [
    ...beforeFields.flat(),
    ...found.map((name) => `As found ${name}`),
    ...found.map((name) => `As left ${name}`),
    ...effects.map((name) => `Seen by ${name}`),
    ...afterFields.flat(),
  ].map(keyOf);
};

const conditionText = (book: Book, { signal, state }: Condition): string => {
  const def = book.signals[signal];
  return `${def?.name ?? 'a signal not known'} is ${def?.states[state] ?? `state ${state}`}`;
};

const armedText = (book: Book, { interlock }: Subject): string | undefined => {
  const { when, after } = interlock.armed;
  if (when.length === 0) return undefined;
  const held = after > 0 ? `, for ${formatSeconds(after / SECOND)}` : '';
  return `${when.map((one) => conditionText(book, one)).join(' and ')}${held}`;
};

const limitText = ({ interlock, bands, unit }: Subject): string | undefined => {
  const { limit } = interlock;
  if (limit === undefined) return undefined;
  const side = limit.side === 'no-lower-than' ? 'no lower than' : 'no higher than';
  const value = bands.limit ? formatBand(bands.limit, unit) : 'a level that follows its reference';
  return `${side} ${value} (${limit.basis})`;
};

const delayText = ({ interlock }: Subject): string | undefined => {
  const { delay } = interlock;
  if (delay === undefined) return undefined;
  const { time, tolerance, onReturn } = delay;
  const returns = onReturn === 'resets' ? 'begins anew' : 'goes on where it stood';
  return `${formatSeconds(time / SECOND)} ± ${formatSeconds(tolerance / SECOND)}; ${returns} when the cause comes back`;
};

/** Set point and tolerance as declared, for a cause that has them. */
const levelTexts = (book: Book, { interlock, machine, unit }: Subject): readonly [string?, string?] => {
  const { cause } = interlock;
  if (cause.kind !== 'level') return [];
  const { setPoint, tolerance, signal } = cause;
  const references = referencesOf(machine, signal);
  const around =
    tolerance.of === 'absolute'
      ? formatBand({ low: tolerance.offset, high: tolerance.offset }, stepUnit(unit))
      : levelText(book, tolerance, unit, references);
  return [levelText(book, setPoint, unit, references), `± ${around}`];
};

/** What is asked of an interlock, in figures as far as they are known before the test; what it does not have is left out. */
export const ruleFields = (book: Book, subject: Subject): readonly [readonly Field[], readonly Field[]] => {
  const { interlock, bands, unit } = subject;
  const field = (name: string, value: string | undefined): readonly Field[] =>
    value === undefined ? [] : [{ name, value }];
  const [setPoint, tolerance] = levelTexts(book, subject);
  const quiet = formatSeconds(interlock.baseline / SECOND);
  const latch = interlock.effects.some(({ until }) => until === 'reset');
  return [
    [
      ...field('Set point', setPoint),
      ...field('Tolerance', tolerance),
      ...field('Allowed', bands.allowed && formatBand(bands.allowed, unit)),
      ...field('Limit', limitText(subject)),
      ...field('Delay', delayText(subject)),
      ...field('Back to normal at', bands.clears && formatBand(bands.clears, unit)),
    ],
    [
      ...field('Armed when', armedText(book, subject)),
      ...field('Before each trial', `${quiet} without any change`),
      ...field(
        'After it',
        latch
          ? `cause away for ${formatSeconds(interlock.dwell / SECOND)} without reset: it must stay tripped`
          : undefined,
      ),
      ...field('Must not act', mustStay(interlock) ? 'the effects below must stay as they are' : undefined),
      ...field('Decision rule', decisionText(interlock)),
    ],
  ];
};
