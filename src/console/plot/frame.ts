import type { Columns } from './columns.ts';
import type { PlotBand, PlotModel, PlotSignal } from './model.ts';
import type { Palette } from './palette.ts';

/** A line of a panel with what of it is seen now. `factor`, `offset`: to the unit of the panel. */
export interface Line {
  readonly signal: PlotSignal;
  /** Among all lines of the plot: decides dashes and colour. */
  readonly place: number;
  readonly columns: Columns;
  readonly factor: number;
  readonly offset: number;
}

/** All that a painter needs: the canvas, where on it the picture lies (device pixels), and what it shows. */
export interface Frame {
  readonly ctx: CanvasRenderingContext2D;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  /** Device pixels for one of the style sheet. */
  readonly ratio: number;
  readonly palette: Palette;
  readonly model: PlotModel;
  readonly lines: readonly Line[];
  readonly bands: readonly PlotBand[];
  /** Seconds from the left edge to the right. */
  readonly from: number;
  readonly to: number;
  /** What the whole height spans, in the unit of the panel. */
  readonly span: readonly [number, number];
  readonly x: (t: number) => number;
  readonly y: (value: number) => number;
}

export const lineOf = (frame: Frame, name: string): Line | undefined =>
  frame.lines.find((line) => line.signal.name === name && !line.signal.second);

/** Paints only within the picture. */
export const clipped = (frame: Frame, paint: () => void): void => {
  const { ctx, left, top, width, height } = frame;
  ctx.save();
  ctx.beginPath();
  ctx.rect(left, top, width, height);
  ctx.clip();
  paint();
  ctx.restore();
};

/** Slanted strokes over a field, `step` device pixels apart. */
export const hatch = (
  ctx: CanvasRenderingContext2D,
  field: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
  step: number,
): void => {
  const { x, y, width, height } = field;
  ctx.save();
  ctx.beginPath();
  ctx.rect(x, y, width, height);
  ctx.clip();
  ctx.beginPath();
  // Fixed to the canvas, so that the strokes stand still while the field moves.
  const first = Math.floor((x - height) / step) * step;
  for (let at = first; at < x + width; at += step) {
    ctx.moveTo(at, y + height);
    ctx.lineTo(at + height, y);
  }
  ctx.stroke();
  ctx.restore();
};

/** Words on a ground of their own, so that they are read over anything. `x`, `y`: left end, middle of the line. */
export const label = (frame: Frame, text: string, x: number, y: number, colour: string): number => {
  const { ctx, palette, ratio } = frame;
  const size = 12 * ratio;
  ctx.font = `600 ${size}px ${palette.sans}`;
  const width = ctx.measureText(text).width;
  ctx.globalAlpha = 0.85;
  ctx.fillStyle = palette.card;
  ctx.fillRect(x - 2 * ratio, y - size * 0.65, width + 4 * ratio, size * 1.3);
  ctx.globalAlpha = 1;
  ctx.fillStyle = colour;
  ctx.textBaseline = 'middle';
  ctx.textAlign = 'left';
  ctx.fillText(text, x, y);
  return width;
};
