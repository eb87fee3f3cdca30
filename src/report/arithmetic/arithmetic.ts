import type { Phrase } from '../../measure/index.ts';
import { text } from '../../words/index.ts';
import type { Subject } from '../facts.ts';
import type { WindowReport } from '../types.ts';
import { effectLines } from './effects.ts';
import { holdLines } from './holds.ts';
import { levelLines, shareLine } from './levels.ts';

/** The sums behind the figures of an interlock; nothing for a figure that its verdict does not carry. */
const sums = (report: WindowReport, subject: Subject): readonly Phrase[] => [
  ...shareLine(subject),
  ...levelLines(subject),
  ...holdLines(subject),
  ...effectLines(report.opened, subject),
];

/** The same, a sentence each. Seconds count from the opening of the window. */
export const arithmetic = (report: WindowReport, subject: Subject): readonly string[] =>
  sums(report, subject).map((sum) => text(sum));
