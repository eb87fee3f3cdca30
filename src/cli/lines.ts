import type { AdviceNow, FindingTold, PlanTold } from '../api/index.ts';
import { COLUMNS, clean, hung } from './hung.ts';

/** What is dangerous stands out, and says what to do. */
export const dangerLines = (text: string): string[] => {
  const bar = '!'.repeat(COLUMNS);
  return [bar, ...hung(text, '!! ', '!! '), bar];
};

const isDanger = ({ finding }: FindingTold): boolean => finding.kind === 'contradiction' && finding.dangerous;

/** A finding for people. */
export const findingLines = (told: FindingTold): string[] =>
  isDanger(told)
    ? dangerLines(told.text)
    : hung(told.interlock === '' ? told.text : `${told.interlock}: ${told.text}`, '  ', '      ');

/** What is about something under test, or dangerous; all of it where somebody asks for all. */
export const shownOf = (findings: readonly FindingTold[], all: boolean): readonly FindingTold[] =>
  all ? findings : findings.filter((one) => !one.aside);

/** What the planner says of one interlock: > how to test, ! what cannot be decided, ? what is decided by luck. */
export const planLines = (plan: readonly PlanTold[]): string[] =>
  plan.flatMap(({ interlock, advice, undecidable, notes }) => [
    ...hung(interlock, '  '),
    ...advice.flatMap(({ text }) => hung(text, '    > ')),
    ...undecidable.flatMap(({ text }) => hung(text, '    ! ')),
    ...notes.flatMap(({ text }) => hung(text, '    ? ')),
  ]);

/** What a person must hear first stands first. */
const URGENCY = [
  'coach-slow-down',
  'coach-stand-still',
  'coach-no-reading',
  'coach-hold',
  'coach-unclear',
  'coach-in-range',
  'coach-approach',
  'coach-held',
];

export const mostUrgent = (advice: readonly AdviceNow[]): AdviceNow | undefined =>
  [...advice].sort((a, b) => URGENCY.indexOf(a.code) - URGENCY.indexOf(b.code))[0];

export const adviceLine = ({ interlock, text }: AdviceNow): string => clean(`${interlock}: ${text}`);

/** The part of a stream that a line needs. */
export interface Screen {
  readonly isTTY?: boolean;
  write(text: string): unknown;
}

/** A line at the foot that changes in place; where the screen is none, a new line whenever it says something else. */
export interface ChangingLine {
  set(advice: AdviceNow | undefined): void;
  /** Other lines go above it. */
  above(lines: readonly string[]): void;
}

const ERASE = '\r\u001b[2K';

export const changingLine = (screen: Screen): ChangingLine => {
  const inPlace = screen.isTTY === true;
  let said = '';
  let standing = '';
  const draw = (text: string): void => {
    if (text === standing) return;
    screen.write(`${standing === '' ? '' : ERASE}${text}`);
    standing = text;
  };
  return {
    set(advice) {
      const line = advice === undefined ? '' : adviceLine(advice);
      if (inPlace) {
        draw(line.length < COLUMNS ? line : `${line.slice(0, COLUMNS - 2)}…`);
        return;
      }
      // Figures change with every reading: what is said again with other figures is no news.
      const sense = advice === undefined ? '' : `${advice.interlock} ${advice.code}`;
      if (sense !== '' && sense !== said) screen.write(`${hung(line, '  ', '      ').join('\n')}\n`);
      said = sense;
    },
    above(lines) {
      if (lines.length === 0) return;
      const line = standing;
      draw('');
      screen.write(`${lines.join('\n')}\n`);
      if (inPlace) draw(line);
    },
  };
};
