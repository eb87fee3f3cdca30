import type { Subject } from '../facts.ts';
import type { WindowReport } from '../types.ts';
import { effectLines } from './effects.ts';
import { holdLines } from './holds.ts';
import { levelLines, shareLine } from './levels.ts';

/**
 * The sums behind the figures of an interlock, a sentence each; nothing for a figure that its verdict does not carry.
 * Seconds count from the opening of the window.
 */
export const arithmetic = (report: WindowReport, subject: Subject): readonly string[] => [
  ...shareLine(subject),
  ...levelLines(subject),
  ...holdLines(subject),
  ...effectLines(report.opened, subject),
];
