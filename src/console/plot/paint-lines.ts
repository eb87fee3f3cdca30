import { absenceAt } from '../../measure/index.ts';
import { absenceText } from '../text/say.ts';
import { clipped, type Frame, hatch, type Line, label } from './frame.ts';
import { colourPlace, dashOf } from './palette.ts';

const colourOf = (frame: Frame, line: Line): string => frame.palette.lines[colourPlace(line.place)] ?? '';

/** From the place on, where the line begins anew next. */
const endOfRun = ({ columns }: Line, begin: number): number => {
  let end = begin + 1;
  while (end < columns.count && columns.apart[end] === 0) end += 1;
  return end;
};

/** The area between the bounds, there and back. */
const area = (frame: Frame, line: Line, begin: number, end: number): void => {
  const { ctx, x, y } = frame;
  const { columns, factor, offset } = line;
  ctx.beginPath();
  for (let at = begin; at < end; at += 1)
    ctx.lineTo(x(columns.t[at] as number), y((columns.high[at] as number) * factor + offset));
  for (let at = end - 1; at >= begin; at -= 1)
    ctx.lineTo(x(columns.t[at] as number), y((columns.low[at] as number) * factor + offset));
  ctx.closePath();
};

/** Along the middle of the bounds. */
const middle = (frame: Frame, line: Line, begin: number, end: number): void => {
  const { ctx, x, y } = frame;
  const { columns, factor, offset } = line;
  ctx.beginPath();
  for (let at = begin; at < end; at += 1) {
    const value = ((columns.low[at] as number) + (columns.high[at] as number)) / 2;
    ctx.lineTo(x(columns.t[at] as number), y(value * factor + offset));
  }
};

/** So many lines of one picture get the edges of their doubt drawn; of more, only the area is seen. */
const MOST_EDGED = 6;

/** Mean distance of the bounds on the screen, in device pixels. */
const thickness = ({ y }: Frame, { columns, factor, offset }: Line): number => {
  let sum = 0;
  for (let at = 0; at < columns.count; at += 1)
    sum +=
      y((columns.low[at] as number) * factor + offset) - y((columns.high[at] as number) * factor + offset);
  return columns.count === 0 ? 0 : sum / columns.count;
};

/** A reading without neighbours is no line: a small block from its least to its greatest. */
const paintAlone = (frame: Frame, { columns, factor, offset }: Line, at: number): void => {
  const { ctx, x, y, ratio } = frame;
  const top = y((columns.high[at] as number) * factor + offset);
  const bottom = y((columns.low[at] as number) * factor + offset);
  ctx.fillRect(x(columns.t[at] as number) - 1.5 * ratio, top - ratio, 3 * ratio, bottom - top + 2 * ratio);
};

const paintLine = (frame: Frame, line: Line): void => {
  const { ctx, ratio, lines } = frame;
  const { place, signal, columns } = line;
  const dash = dashOf(place, signal.second).map((length) => length * ratio);
  const thick = thickness(frame, line);
  const edged = lines.length <= MOST_EDGED && thick > 3 * ratio;
  ctx.strokeStyle = colourOf(frame, line);
  ctx.fillStyle = ctx.strokeStyle;
  ctx.lineJoin = 'bevel';
  for (let begin = 0; begin < columns.count; ) {
    const end = endOfRun(line, begin);
    if (end === begin + 1) paintAlone(frame, line, begin);
    area(frame, line, begin, end);
    ctx.globalAlpha = edged ? 0.28 : 0.4;
    ctx.fill();
    if (edged) {
      ctx.globalAlpha = 0.75;
      ctx.lineWidth = ratio;
      ctx.setLineDash([]);
      ctx.stroke();
    }
    ctx.globalAlpha = 1;
    middle(frame, line, begin, end);
    ctx.lineWidth = (signal.second ? 1.5 : 2) * ratio;
    ctx.setLineDash(dash);
    ctx.stroke();
    begin = end;
  }
  ctx.setLineDash([]);
};

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
export const paintLines = (frame: Frame): void => {
  clipped(frame, () => {
    for (const [row, line] of frame.lines.entries()) paintGaps(frame, line, row % 6);
    for (const line of frame.lines) paintLine(frame, line);
  });
  paintKeys(frame);
};
