import type { Columns } from './columns.ts';
import type { Frame, Line } from './frame.ts';
import { colourPlace, dashOf } from './palette.ts';

export const colourOf = (frame: Frame, line: Line): string =>
  frame.palette.lines[colourPlace(line.place)] ?? '';

/** How far along its dashes a line is: pixels from the beginning of its run to its last place, and to the one before. */
export interface Along {
  readonly last: number;
  readonly before: number;
}

export const AT_BEGINNING: Along = { last: 0, before: 0 };

/** What of a line is painted. */
export interface LinePart {
  readonly columns: Columns;
  /** Places at its beginning that were painted before, one or two: the line goes on from there. */
  readonly known: number;
  readonly along: Along;
  readonly edged: boolean;
}

/** From the place on, where the line begins anew next. */
const endOfRun = (columns: Columns, begin: number): number => {
  let end = begin + 1;
  while (end < columns.count && columns.apart[end] === 0) end += 1;
  return end;
};

const lowOf = ({ low }: Columns, at: number): number => low[at] as number;
const highOf = ({ high }: Columns, at: number): number => high[at] as number;
const middleOf = ({ low, high }: Columns, at: number): number =>
  ((low[at] as number) + (high[at] as number)) / 2;

interface Run {
  readonly columns: Columns;
  readonly begin: number;
  readonly end: number;
}

/** The area between the bounds, there and back. */
const area = ({ ctx, x, y }: Frame, { factor, offset }: Line, { columns, begin, end }: Run): void => {
  ctx.beginPath();
  for (let at = begin; at < end; at += 1)
    ctx.lineTo(x(columns.t[at] as number), y(highOf(columns, at) * factor + offset));
  for (let at = end - 1; at >= begin; at -= 1)
    ctx.lineTo(x(columns.t[at] as number), y(lowOf(columns, at) * factor + offset));
  ctx.closePath();
};

/** So many stretches are one stroke: without a graphics card, a browser takes far longer for a long one than for its parts. */
const STRETCHES = 8;

interface Stroke {
  readonly pick: (columns: Columns, at: number) => number;
  /** Stretches by which the parts lie over each other, so that no joint is seen: none where one sees through them. */
  readonly over: 0 | 1;
  /** Pixels of its dashes that were used up before. */
  readonly gone: number;
}

/** Strokes a run in parts; its dashes go on from one to the next. Tells how far along it came. */
const stroke = (
  { ctx, x, y }: Frame,
  { factor, offset }: Line,
  { columns, begin, end }: Run,
  { pick, over, gone }: Stroke,
): Along => {
  const xAt = (at: number): number => x(columns.t[at] as number);
  const yAt = (at: number): number => y(pick(columns, at) * factor + offset);
  let along = { last: gone, before: gone };
  for (let from = begin; from < end - 1; from += STRETCHES) {
    const next = from + STRETCHES;
    const to = Math.min(end - 1, next + over);
    ctx.lineDashOffset = along.last;
    ctx.beginPath();
    let [beforeX, beforeY] = [xAt(from), yAt(from)];
    ctx.moveTo(beforeX, beforeY);
    for (let at = from + 1; at <= to; at += 1) {
      const [ownX, ownY] = [xAt(at), yAt(at)];
      ctx.lineTo(ownX, ownY);
      if (at <= next)
        along = { last: along.last + Math.hypot(ownX - beforeX, ownY - beforeY), before: along.last };
      [beforeX, beforeY] = [ownX, ownY];
    }
    ctx.stroke();
  }
  ctx.lineDashOffset = 0;
  return along;
};

/** So many lines of one picture get the edges of their doubt drawn; of more, only the area is seen. */
const MOST_EDGED = 6;

/** The bounds lie so far from each other on the screen that edges help. */
export const isEdged = ({ y, ratio, lines }: Frame, { columns, factor, offset }: Line): boolean => {
  if (lines.length > MOST_EDGED || columns.count === 0) return false;
  let sum = 0;
  for (let at = 0; at < columns.count; at += 1)
    sum += y(lowOf(columns, at) * factor + offset) - y(highOf(columns, at) * factor + offset);
  return sum / columns.count > 3 * ratio;
};

/** A reading without neighbours is no line: a small block from its least to its greatest. */
const paintAlone = (
  { ctx, x, y, ratio }: Frame,
  { factor, offset }: Line,
  columns: Columns,
  at: number,
): void => {
  const top = y(highOf(columns, at) * factor + offset);
  const bottom = y(lowOf(columns, at) * factor + offset);
  ctx.fillRect(x(columns.t[at] as number) - 1.5 * ratio, top - ratio, 3 * ratio, bottom - top + 2 * ratio);
};

/** Paints what of a line is new, with its doubt; tells how far along its dashes it came. */
export const paintLine = (frame: Frame, line: Line, { columns, known, along, edged }: LinePart): Along => {
  const { ctx, ratio } = frame;
  const { place, signal } = line;
  const dash = dashOf(place, signal.second).map((length) => length * ratio);
  let came = along;
  ctx.strokeStyle = colourOf(frame, line);
  ctx.fillStyle = ctx.strokeStyle;
  ctx.lineJoin = 'bevel';
  for (let begin = 0; begin < columns.count; ) {
    const end = endOfRun(columns, begin);
    const whole = { columns, begin, end };
    const fresh = { columns, begin: Math.max(begin, known - 1), end };
    const before = Math.max(0, known - begin);
    begin = end;
    if (end <= known) continue;
    if (end === whole.begin + 1) paintAlone(frame, line, columns, whole.begin);
    area(frame, line, fresh);
    ctx.globalAlpha = edged ? 0.28 : 0.4;
    ctx.fill();
    if (edged) {
      ctx.globalAlpha = 0.75;
      ctx.lineWidth = ratio;
      ctx.setLineDash([]);
      for (const pick of [highOf, lowOf]) stroke(frame, line, fresh, { pick, over: 0, gone: 0 });
    }
    ctx.globalAlpha = 1;
    ctx.lineWidth = (signal.second ? 1.5 : 2) * ratio;
    ctx.setLineDash(dash);
    const gone = [0, along.last, along.before][before] ?? 0;
    came = stroke(frame, line, whole, { pick: middleOf, over: 1, gone });
  }
  ctx.setLineDash([]);
  return came;
};
