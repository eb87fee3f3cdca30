import uPlot from 'uplot';
import { unitShown } from '../../words/index.ts';
import { convert, unitOf } from '../text/quantity.ts';
import { numbers } from '../text/speech.ts';
import { createColumns, fill } from './columns.ts';
import type { Frame, Line } from './frame.ts';
import { createLayer } from './layer.ts';
import { linePlaces, type PlotBand, type PlotModel } from './model.ts';
import { paintBandNames, paintBands } from './paint-bands.ts';
import { paintLines } from './paint-lines.ts';
import { paintHighlight, paintMarkLines } from './paint-places.ts';
import type { Palette } from './palette.ts';
import { steadyRange } from './range.ts';
import { splitsOf, timeTexts, valueTexts } from './ticks.ts';

/** Left of every picture, for the figures; right of it, for the numbers of the lines. Pixels of the style sheet. */
export const GUTTER = { left: 54, right: 26 } as const;
export const AXIS_HEIGHT = 26;

/** Lines with one unit, over one scale. */
export interface PanelPlan {
  /** As it is shown. */
  readonly unit: string;
  readonly lines: readonly Line[];
  readonly bands: readonly PlotBand[];
}

/** One panel per unit, in the order in which their first signals were asked for. */
export const panelPlans = (model: PlotModel): readonly PanelPlan[] => {
  const plans = new Map<string, Line[]>();
  for (const [signal, place] of linePlaces(model)) {
    const { unit, factor, offset } = unitOf(signal.shown);
    const own = plans.get(unit) ?? [];
    own.push({ signal, place, columns: createColumns(), factor, offset });
    plans.set(unit, own);
  }
  // States alone have an axis of time too.
  if (plans.size === 0) plans.set('', []);
  return [...plans].map(([unit, lines]) => ({
    unit: unitShown(unit, numbers()),
    lines,
    bands: model.bands.filter((band) => lines.some((line) => line.signal.name === band.signal)),
  }));
};

export interface Panel {
  /** Draws at once what lies between these seconds. */
  draw(from: number, to: number): void;
  resize(width: number, height: number): void;
  destroy(): void;
}

export interface PanelNeeds {
  readonly host: HTMLElement;
  readonly plan: PanelPlan;
  /** Asked at each picture: marks and the highlighted place change while the panel stays. */
  readonly model: () => PlotModel;
  readonly palette: () => Palette;
  readonly size: { readonly width: number; readonly height: number };
}

const axis = (palette: () => Palette): Partial<uPlot.Axis> => ({
  stroke: () => palette().soft,
  grid: { stroke: () => palette().rule, width: 1 },
  ticks: { stroke: () => palette().rule, width: 1, size: 4 },
  font: '12px system-ui, sans-serif',
  labelSize: 0,
  gap: 4,
});

/** What the lines and levels span in the unit of the panel. */
const spanned = ({ lines, bands }: PanelPlan): readonly [number, number] => {
  let [least, greatest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const take = (value: number): void => {
    if (value < least) least = value;
    if (value > greatest) greatest = value;
  };
  for (const { columns, factor, offset, signal } of lines) {
    if (columns.least <= columns.greatest) {
      take(columns.least * factor + offset);
      take(columns.greatest * factor + offset);
    }
    for (const band of bands) {
      if (band.signal !== signal.name) continue;
      take(convert(band.level.low, { unit: '', factor, offset }));
      take(convert(band.level.high, { unit: '', factor, offset }));
    }
  }
  return [least, greatest];
};

/** The axes' painter remembers what it set on the canvas: it finds it again. */
const aside = (frame: Frame, paint: (frame: Frame) => void): void => {
  frame.ctx.save();
  paint(frame);
  frame.ctx.restore();
};

export const createPanel = ({ host, plan, model, palette, size }: PanelNeeds): Panel => {
  const range = steadyRange();
  const layer = createLayer();
  const frameOf = ({ bbox, scales, ctx }: uPlot): Frame => {
    const { left, top, width, height } = bbox;
    const { x: sx, y: sy } = scales;
    const [x0, x1] = [sx?.min ?? 0, sx?.max ?? 1];
    const [y0, y1] = [sy?.min ?? 0, sy?.max ?? 1];
    return {
      ctx,
      left,
      top,
      width,
      height,
      ratio: uPlot.pxRatio,
      palette: palette(),
      model: model(),
      lines: plan.lines,
      bands: plan.bands,
      from: x0,
      to: x1,
      span: [y0, y1],
      x: (t) => left + ((t - x0) / (x1 - x0)) * width,
      y: (value) => top + height - ((value - y0) / (y1 - y0)) * height,
    };
  };
  const plot = new uPlot(
    {
      ...size,
      padding: [8, GUTTER.right, 0, 0],
      legend: { show: false },
      cursor: { show: false },
      scales: { x: { time: false }, y: { auto: false, range: (_plot, min, max) => [min, max] } },
      series: [{}, { show: false }],
      axes: [
        {
          ...axis(palette),
          size: AXIS_HEIGHT,
          splits: (self, _index, min, max) =>
            splitsOf(min, max, self.bbox.width / uPlot.pxRatio / 92, model()),
          values: (_self, splits) => timeTexts(splits, model()),
        },
        {
          ...axis(palette),
          size: GUTTER.left,
          space: 32,
          values: (_self, splits) => (plan.lines.length === 0 ? [] : valueTexts(splits)),
        },
      ],
      hooks: {
        drawClear: [
          (self) =>
            aside(frameOf(self), (frame) => {
              paintBands(frame);
              paintHighlight(frame);
            }),
        ],
        draw: [
          (self) =>
            aside(frameOf(self), (frame) => {
              paintMarkLines(frame);
              paintLines(frame, layer);
              paintBandNames(frame);
            }),
        ],
      },
    },
    [
      [0, 1],
      [null, null],
    ],
    host,
  );
  return {
    draw(exactly, until) {
      const pixels = Math.max(1, plot.bbox.width / uPlot.pxRatio);
      // At whole pixels of the screen, so that a picture that moves on only moves.
      const pixel = (until - exactly) / Math.max(1, plot.bbox.width);
      const from = Math.round(exactly / pixel) * pixel;
      const to = from + (until - exactly);
      for (const { columns, signal } of plan.lines) fill(columns, signal.series, from, to, pixels);
      const [min, max] = range(...spanned(plan));
      plot.batch(() => {
        plot.setScale('x', { min: from, max: to });
        plot.setScale('y', { min, max });
      });
    },
    resize(width, height) {
      plot.setSize({ width, height });
    },
    destroy: () => plot.destroy(),
  };
};
