import { absenceAt } from '../../measure/index.ts';
import { absenceText } from '../text/say.ts';
import { clipped, type Frame, hatch, type Line, label } from './frame.ts';
import type { Layer } from './layer.ts';
import { colourOf } from './paint-line.ts';

/** Where nothing is known: a hatched field from the last reading to the next, with the reason. */
const paintGaps = (frame: Frame, line: Line, row: number): void => {
  const { ctx, x, top, height, ratio, left, width } = frame;
  const { gaps } = line.columns;
  for (let at = 0; at < gaps.count; at += 1) {
    const from = Math.max(left, x(gaps.from[at] as number));
    const to = Math.min(left + width, x(gaps.to[at] as number));
    if (to < from) continue;
    const wide = Math.max(3 * ratio, to - from);
    ctx.strokeStyle = colourOf(frame, line);
    ctx.lineWidth = ratio;
    ctx.globalAlpha = 0.5;
    hatch(ctx, { x: from, y: top, width: wide, height }, 9 * ratio);
    ctx.globalAlpha = 1;
    ctx.setLineDash([2 * ratio, 2 * ratio]);
    ctx.strokeRect(from, top - ratio, wide, height + 2 * ratio);
    ctx.setLineDash([]);
    const why = absenceAt(gaps.why[at] as number);
    if (why === undefined || wide < 60 * ratio) continue;
    const own = frame.lines.length > 1 ? `${line.signal.key}: ` : '';
    label(
      frame,
      `${own}${absenceText(why)}`,
      from + 6 * ratio,
      top + (12 + 17 * row) * ratio,
      frame.palette.ink,
    );
  }
};

/** The number of each line at its end, moved apart where they would lie on each other. */
const paintKeys = (frame: Frame): void => {
  const { ctx, left, width, top, height, ratio, lines, y } = frame;
  const ends = lines.flatMap((line) => {
    const { columns, factor, offset } = line;
    const last = columns.count - 1;
    if (last < 0) return [];
    const value = ((columns.low[last] as number) + (columns.high[last] as number)) / 2;
    return [{ line, at: y(value * factor + offset) }];
  });
  ends.sort((a, b) => a.at - b.at);
  const step = 13 * ratio;
  let next = top + step / 2;
  const places = ends.map(({ line, at }) => {
    const place = Math.max(next, at);
    next = place + step;
    return { line, place };
  });
  // What was pushed out below comes back from there.
  let most = top + height;
  for (const one of places.toReversed()) {
    one.place = Math.min(one.place, most);
    most = one.place - step;
  }
  ctx.font = `700 ${12 * ratio}px ${frame.palette.sans}`;
  ctx.textBaseline = 'middle';
  ctx.textAlign = 'left';
  for (const { line, place } of places) {
    ctx.fillStyle = colourOf(frame, line);
    ctx.fillText(line.signal.key, left + width + 4 * ratio, place);
  }
};

/** Every line with its doubt, its gaps and its number. */
export const paintLines = (frame: Frame, layer: Layer): void => {
  clipped(frame, () => {
    for (const [row, line] of frame.lines.entries()) paintGaps(frame, line, row % 6);
  });
  layer.paint(frame);
  paintKeys(frame);
};
