import { clipped, type Frame } from './frame.ts';
import type { Layer } from './layer.ts';
import { paintGaps } from './paint-gaps.ts';
import { colourOf } from './paint-line.ts';

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
  clipped(frame, () => paintGaps(frame));
  layer.paint(frame);
  paintKeys(frame);
};
