import type { Outcome } from '../measure/index.ts';
import { markOf } from '../report/index.ts';
import { INK } from './paper.ts';
import type { Press } from './press.ts';

const COLOURS: Readonly<Record<Outcome, string>> = {
  pass: INK.pass,
  fail: INK.fail,
  inconclusive: INK.open,
  'not-tested': INK.soft,
};

const SIZE = 9;
const HEIGHT = 15;

/** Width of a verdict's mark with its frame. */
export const markWidth = (press: Press, outcome: Outcome): number =>
  press.widthOf(markOf(outcome), 'bold', SIZE) + 14;

/**
 * The mark of a verdict: full for a pass, a double frame for a fail, dashed and dotted frames for the others; with its
 * shape and its word. `y` is the upper edge.
 */
export const drawMark = (press: Press, outcome: Outcome, x: number, y: number): void => {
  const { doc } = press;
  const width = markWidth(press, outcome);
  const colour = COLOURS[outcome];
  doc.save();
  doc.roundedRect(x, y, width, HEIGHT, 2);
  if (outcome === 'pass') doc.fill(colour);
  else {
    doc.lineWidth(outcome === 'fail' ? 2.2 : 1.2).strokeColor(colour);
    if (outcome === 'inconclusive') doc.dash(4, { space: 2.2 });
    if (outcome === 'not-tested') doc.dash(1.2, { space: 1.8 });
    doc.stroke().undash();
    if (outcome === 'fail')
      doc
        .rect(x + 2.6, y + 2.6, width - 5.2, HEIGHT - 5.2)
        .lineWidth(0.7)
        .stroke();
  }
  doc.restore();
  press.put(markOf(outcome), x + 7, y + 10.8, {
    face: 'bold',
    size: SIZE,
    colour: outcome === 'pass' ? '#ffffff' : colour,
  });
};

/** `✔ pass`, for a cell of a table. */
export const wordOf = (outcome: Outcome): string => markOf(outcome).toLowerCase();
