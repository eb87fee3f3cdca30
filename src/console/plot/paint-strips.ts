import { absenceAt } from '../../measure/index.ts';
import { absenceText, say } from '../text/say.ts';
import { hatch } from './frame.ts';
import type { PlotMark, PlotModel, PlotSignal } from './model.ts';
import type { Palette } from './palette.ts';
import { countUntil, placeOf, type Series } from './series.ts';

/** Heights of a strip: its name, and the strip itself. Pixels of the style sheet. */
export const STRIP = { name: 18, bar: 24, gap: 6, flags: 26 } as const;

export interface StripFrame {
  readonly ctx: CanvasRenderingContext2D;
  readonly left: number;
  readonly width: number;
  readonly ratio: number;
  readonly palette: Palette;
  readonly from: number;
  readonly to: number;
}

const xOf = ({ left, width, from, to }: StripFrame, t: number): number =>
  left + Math.min(1, Math.max(0, (t - from) / (to - from))) * width;

const font = ({ ratio, palette }: StripFrame, weight: number): string =>
  `${weight} ${12 * ratio}px ${palette.sans}`;

/** Text in a field, cut off with it; left out where not even its beginning fits. */
const textIn = (frame: StripFrame, text: string, from: number, to: number, middle: number): void => {
  const { ctx, ratio } = frame;
  if (to - from < 18 * ratio) return;
  ctx.save();
  ctx.beginPath();
  ctx.rect(from, middle - 12 * ratio, to - from, 24 * ratio);
  ctx.clip();
  ctx.fillText(text, from + 6 * ratio, middle);
  ctx.restore();
};

interface Bar {
  readonly top: number;
  readonly height: number;
  readonly signal: PlotSignal;
}

/**
 * A state at rest has a line below only; one that acts is a full block, and of the second trial an empty one: the shape
 * tells it without colour.
 */
const paintState = (
  frame: StripFrame,
  { top, height, signal }: Bar,
  { from, wide, text }: { readonly from: number; readonly wide: number; readonly text: string },
  rests: boolean,
): void => {
  const { ctx, ratio, palette } = frame;
  const full = !rests && !signal.second;
  ctx.fillStyle = full ? palette.acted : palette.card;
  ctx.fillRect(from, top, wide, height);
  ctx.beginPath();
  ctx.moveTo(from, top + height - 0.75 * ratio);
  ctx.lineTo(from + wide, top + height - 0.75 * ratio);
  ctx.stroke();
  if (!rests && signal.second) {
    ctx.lineWidth = 2.5 * ratio;
    ctx.strokeRect(from + ratio, top + ratio, Math.max(0, wide - 2 * ratio), height - 2 * ratio);
  }
  ctx.fillStyle = full ? palette.onActed : palette.ink;
  textIn(frame, text, from, from + wide, top + height / 2);
};

/** One unbroken state, or an unbroken gap. */
const paintRun = (
  frame: StripFrame,
  bar: Bar,
  run: { from: number; to: number; state: number; why: number },
): void => {
  const { ctx, ratio, palette } = frame;
  const [a, b] = [xOf(frame, run.from), xOf(frame, run.to)];
  if (b <= a && run.to < run.from) return;
  const wide = Math.max(ratio, b - a);
  const middle = bar.top + bar.height / 2;
  ctx.lineWidth = 1.5 * ratio;
  ctx.strokeStyle = palette.acted;
  const why = absenceAt(run.why);
  const unknown = why !== undefined || Number.isNaN(run.state);
  if (unknown) {
    ctx.strokeStyle = palette.ink;
    ctx.setLineDash([2 * ratio, 2 * ratio]);
    hatch(ctx, { x: a, y: bar.top, width: wide, height: bar.height }, 7 * ratio);
    ctx.strokeRect(a, bar.top, wide, bar.height);
    ctx.setLineDash([]);
    ctx.fillStyle = palette.card;
    if (wide > 60 * ratio)
      ctx.fillRect(a + 3 * ratio, bar.top + 3 * ratio, wide - 6 * ratio, bar.height - 6 * ratio);
    ctx.fillStyle = palette.ink;
    if (wide > 60 * ratio) textIn(frame, why === undefined ? '?' : absenceText(why), a, b, middle);
    return;
  }
  paintState(
    frame,
    bar,
    { from: a, wide, text: bar.signal.shown?.states[run.state] ?? String(run.state) },
    run.state === 0,
  );
};

/** Between the last reading of one state and the first of the next: it changed somewhere in there. */
const paintEdge = (frame: StripFrame, bar: Bar, from: number, to: number): void => {
  const { ctx, ratio, palette } = frame;
  const a = xOf(frame, from);
  const wide = Math.max(3 * ratio, xOf(frame, to) - a);
  ctx.fillStyle = palette.card;
  ctx.fillRect(a, bar.top, wide, bar.height);
  ctx.strokeStyle = palette.ink;
  ctx.lineWidth = ratio;
  hatch(ctx, { x: a, y: bar.top, width: wide, height: bar.height }, 4 * ratio);
  ctx.lineWidth = 1.5 * ratio;
  ctx.strokeRect(a, bar.top, wide, bar.height);
};

const stateOf = (series: Series, place: number): number => {
  const low = series.low[place] as number;
  return low === series.high[place] ? low : Number.NaN;
};

/** Runs first, then the edges over them. */
const paintBar = (frame: StripFrame, bar: Bar): void => {
  const { series } = bar.signal;
  const begin = Math.max(0, countUntil(series, frame.from) - 1);
  const end = Math.min(series.count, countUntil(series, frame.to) + 1);
  const run = { from: Number.NaN, to: Number.NaN, state: Number.NaN, why: 0 };
  for (let row = begin; row < end; row += 1) {
    const place = placeOf(series, row);
    const t = series.t[place] as number;
    const why = series.why[place] as number;
    const state = why === 0 ? stateOf(series, place) : Number.NaN;
    const same = why === run.why && (why !== 0 || Object.is(state, run.state));
    if (row > begin && !same) {
      paintRun(frame, bar, run);
      if (why === 0 && run.why === 0) paintEdge(frame, bar, run.to, t);
      // Nothing is known from the last reading on, nor until the next.
      else if (why === 0) paintRun(frame, bar, { ...run, from: run.to, to: t });
      run.from = why !== 0 && run.why === 0 ? run.to : t;
    } else if (row === begin) run.from = t;
    run.to = t;
    run.state = state;
    run.why = why;
  }
  if (begin >= end) return;
  if (run.why !== 0) run.to = Math.max(run.to, frame.to);
  paintRun(frame, bar, run);
};

/** Paints one strip; tells where the next begins. */
export const paintStrip = (frame: StripFrame, signal: PlotSignal, top: number): number => {
  const { ctx, ratio, palette, left, width } = frame;
  ctx.textBaseline = 'middle';
  ctx.textAlign = 'left';
  ctx.font = font(frame, 600);
  ctx.fillStyle = palette.ink;
  ctx.fillText(`${signal.key}  ${signal.name}`, left, top + (STRIP.name / 2) * ratio);
  const bar = { top: top + STRIP.name * ratio, height: STRIP.bar * ratio, signal };
  ctx.fillStyle = palette.rest;
  ctx.globalAlpha = 0.25;
  ctx.fillRect(left, bar.top, width, bar.height);
  ctx.globalAlpha = 1;
  paintBar(frame, bar);
  return bar.top + bar.height + STRIP.gap * ratio;
};

const SHAPES: Readonly<Record<PlotMark['kind'], string>> = {
  now: '▼',
  attested: '◆',
  comment: '■',
  note: '■',
  trial: '▷',
};

/** Flags of people, each as long as there is room before the next. */
export const paintFlags = (frame: StripFrame, model: PlotModel, top: number): number => {
  const { ctx, ratio, palette, left, width } = frame;
  const marks = model.marks
    .filter((mark) => mark.t >= frame.from && mark.t <= frame.to)
    .toSorted((a, b) => a.t - b.t);
  const middle = top + (STRIP.flags / 2) * ratio;
  ctx.textBaseline = 'middle';
  ctx.textAlign = 'left';
  ctx.font = font(frame, 600);
  if (marks.length === 0) {
    ctx.fillStyle = palette.soft;
    textIn(frame, say('plot', 'no-marks'), left, left + width, middle);
  }
  marks.forEach((mark, index) => {
    const from = xOf(frame, mark.t);
    const next = marks[index + 1];
    const to = next === undefined ? left + width : xOf(frame, next.t) - 2 * ratio;
    ctx.fillStyle = palette.ink;
    ctx.fillRect(from, top, 2 * ratio, STRIP.flags * ratio);
    textIn(frame, `${SHAPES[mark.kind]} ${mark.text}`, from, Math.max(to, from + 22 * ratio), middle);
  });
  return top + STRIP.flags * ratio;
};
