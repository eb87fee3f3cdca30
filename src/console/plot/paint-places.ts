import { clipped, type Frame, lineOf } from './frame.ts';
import type { PlotMark } from './model.ts';

/** How the moment of each kind of mark is drawn down the picture. */
const DASHES: Readonly<Record<PlotMark['kind'], readonly number[]>> = {
  now: [],
  attested: [8, 3],
  comment: [1, 4],
  note: [1, 4],
  trial: [3, 3],
};

export const paintMarkLines = (frame: Frame): void => {
  const { ctx, x, top, height, ratio, palette } = frame;
  clipped(frame, () => {
    ctx.strokeStyle = palette.ink;
    ctx.lineWidth = 1.5 * ratio;
    for (const mark of frame.model.marks) {
      const at = x(mark.t);
      ctx.setLineDash(DASHES[mark.kind].map((length) => length * ratio));
      ctx.beginPath();
      ctx.moveTo(at, top);
      ctx.lineTo(at, top + height);
      ctx.stroke();
    }
    ctx.setLineDash([]);
  });
};

/** The place that a line of the arithmetic speaks of: framed, in time and in value. */
export const paintHighlight = (frame: Frame): void => {
  const { highlight } = frame.model;
  if (highlight === undefined) return;
  const { ctx, x, y, left, width, top, height, ratio, palette } = frame;
  const from = highlight.from === undefined ? left : x(highlight.from);
  const to = highlight.to === undefined ? left + width : x(highlight.to);
  const line = lineOf(frame, highlight.signal);
  clipped(frame, () => {
    ctx.fillStyle = palette.accent;
    ctx.strokeStyle = palette.accent;
    ctx.globalAlpha = 0.14;
    const wide = Math.max(3 * ratio, to - from);
    ctx.fillRect(from, top, wide, height);
    ctx.globalAlpha = 1;
    ctx.lineWidth = 2 * ratio;
    ctx.setLineDash([3 * ratio, 3 * ratio]);
    ctx.strokeRect(from, top - 2 * ratio, wide, height + 4 * ratio);
    ctx.setLineDash([]);
    if (line === undefined || highlight.level === undefined) return;
    const a = y(highlight.level.low * line.factor + line.offset);
    const b = y(highlight.level.high * line.factor + line.offset);
    const least = 5 * ratio;
    const tall = Math.max(least, Math.abs(a - b));
    ctx.lineWidth = 3 * ratio;
    ctx.strokeRect(left + ratio, (a + b) / 2 - tall / 2, width - 2 * ratio, tall);
  });
};
