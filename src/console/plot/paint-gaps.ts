import { absenceAt } from '../../measure/index.ts';
import { absenceText } from '../text/say.ts';
import { type Frame, hatch, type Line, label } from './frame.ts';
import { colourOf } from './paint-line.ts';

/** A field of the picture in which nothing is known of these lines, for one reason. */
interface Field {
  readonly from: number;
  readonly to: number;
  readonly why: number;
  readonly lines: Line[];
}

/** What was lost together is one field: the gaps of twenty signals of one source are seen, and painted, once. */
const fieldsOf = ({ x, left, width, lines }: Frame): readonly Field[] => {
  const fields = new Map<string, Field>();
  for (const line of lines) {
    const { gaps } = line.columns;
    for (let at = 0; at < gaps.count; at += 1) {
      const from = Math.round(Math.max(left, x(gaps.from[at] as number)));
      const to = Math.round(Math.min(left + width, x(gaps.to[at] as number)));
      if (to < from) continue;
      const why = gaps.why[at] as number;
      const name = `${from} ${to} ${why}`;
      const field = fields.get(name) ?? { from, to, why, lines: [] };
      field.lines.push(line);
      fields.set(name, field);
    }
  }
  return [...fields.values()];
};

/** So many numbers of lines are told before the reason; of more, the first and how many there are. */
const MOST_KEYS = 6;

const keysOf = (lines: readonly Line[]): string => {
  const keys = lines.map(({ signal }) => signal.key);
  return keys.length <= MOST_KEYS
    ? keys.join(', ')
    : `${keys.slice(0, MOST_KEYS - 1).join(', ')} … (${keys.length})`;
};

const ROWS = 6;

/** Where nothing is known: a hatched field from the last reading to the next, with the reason. */
export const paintGaps = (frame: Frame): void => {
  const { ctx, top, height, ratio, palette } = frame;
  for (const [row, { from, to, why, lines }] of fieldsOf(frame).entries()) {
    const [first] = lines;
    const wide = Math.max(3 * ratio, to - from);
    ctx.strokeStyle = first === undefined || lines.length > 1 ? palette.soft : colourOf(frame, first);
    ctx.lineWidth = ratio;
    ctx.globalAlpha = 0.5;
    hatch(ctx, { x: from, y: top, width: wide, height }, 9 * ratio);
    ctx.globalAlpha = 1;
    ctx.setLineDash([2 * ratio, 2 * ratio]);
    ctx.strokeRect(from, top - ratio, wide, height + 2 * ratio);
    ctx.setLineDash([]);
    const reason = absenceAt(why);
    if (reason === undefined || wide < 60 * ratio) continue;
    const own = frame.lines.length > 1 ? `${keysOf(lines)}: ` : '';
    // At the foot: where a level has its name is above, more often than not.
    const middle = top + height - (12 + 17 * (row % ROWS)) * ratio;
    label(frame, `${own}${absenceText(reason)}`, from + 6 * ratio, middle, palette.ink);
  }
};
