import { boundsText } from '../text/quantity.ts';
import { say } from '../text/say.ts';
import { clipped, type Frame, hatch, type Line, label, lineOf } from './frame.ts';
import type { BandKind, PlotBand } from './model.ts';

/** How each kind is drawn: its edges by dashes of their own. */
const EDGES: Readonly<Record<BandKind, { readonly dash: readonly number[]; readonly wide: number }>> = {
  normal: { dash: [], wide: 1 },
  allowed: { dash: [6, 4], wide: 1.5 },
  'set-point': { dash: [12, 4, 2, 4], wide: 2 },
  clears: { dash: [1, 5], wide: 1.5 },
  near: { dash: [5, 5], wide: 1.5 },
  far: { dash: [5, 5], wide: 1.5 },
  limit: { dash: [], wide: 3 },
};

const colourOf = ({ palette }: Frame, kind: BandKind): string => {
  if (kind === 'limit') return palette.limit;
  return kind === 'normal' || kind === 'clears' ? palette.band : palette.trip;
};

interface Placed {
  readonly band: PlotBand;
  readonly line: Line;
  /** Upper and lower edge, in device pixels. */
  readonly above: number;
  readonly below: number;
}

const placed = (frame: Frame): readonly Placed[] =>
  frame.bands.flatMap((band) => {
    const line = lineOf(frame, band.signal);
    if (line === undefined) return [];
    const edge = (value: number): number => frame.y(value * line.factor + line.offset);
    const [a, b] = [edge(band.level.low), edge(band.level.high)];
    return [{ band, line, above: Math.min(a, b), below: Math.max(a, b) }];
  });

const across = ({ ctx, left, width }: Frame, at: number): void => {
  ctx.beginPath();
  ctx.moveTo(left, at);
  ctx.lineTo(left + width, at);
  ctx.stroke();
};

const paintBand = (frame: Frame, { band, above, below }: Placed): void => {
  const { ctx, left, width, ratio } = frame;
  const { dash, wide } = EDGES[band.kind];
  ctx.strokeStyle = colourOf(frame, band.kind);
  ctx.fillStyle = ctx.strokeStyle;
  if (band.kind === 'normal' || band.kind === 'allowed') {
    ctx.globalAlpha = 0.12;
    ctx.fillRect(left, above, width, Math.max(1, below - above));
    ctx.globalAlpha = 1;
  }
  ctx.lineWidth = wide * ratio;
  ctx.setLineDash(dash.map((length) => length * ratio));
  across(frame, above);
  if (below - above > 2 * ratio) across(frame, below);
  ctx.setLineDash([]);
  if (band.forbidden === undefined) return;
  // A limit has a hatched side: nothing may be there.
  const deep = 10 * ratio;
  const top = band.forbidden === 'above' ? above - deep : below;
  ctx.lineWidth = ratio;
  hatch(ctx, { x: left, y: top, width, height: deep }, 8 * ratio);
};

/** A level is not measured: where its bounds are one to what a plot shows, one figure says it. */
const levelText = ({ level }: PlotBand, { signal }: Line): string =>
  boundsText(level.low, level.high, signal.shown);

/** Names of the levels at their left end, moved apart where they would lie on each other. */
const paintNames = (frame: Frame, bands: readonly Placed[]): void => {
  const { left, top, height, ratio } = frame;
  const several = new Set(bands.map(({ band }) => band.signal)).size > 1;
  const names = bands
    .filter(({ above, below }) => below >= top && above <= top + height)
    .map(({ band, line, above, below }) => {
      const own = several ? `${line.signal.key}: ` : '';
      const at = band.forbidden === 'below' ? below : above;
      const under = band.forbidden === 'below' || (band.kind === 'allowed' && below - above > 34 * ratio);
      return {
        text: `${own}${say('plot', `band-${band.kind}`)} ${levelText(band, line)}`,
        colour: colourOf(frame, band.kind),
        at: Math.min(Math.max(at + (under ? 9 : -9) * ratio, top + 9 * ratio), top + height - 9 * ratio),
      };
    })
    .toSorted((a, b) => a.at - b.at);
  // Side by side rather than over each other.
  const used: { readonly end: number; readonly at: number }[] = [];
  for (const { text, colour, at } of names) {
    const beside = used.filter((one) => Math.abs(one.at - at) < 16 * ratio).map(({ end }) => end);
    const begin = Math.max(left + 8 * ratio, ...beside.map((end) => end + 12 * ratio));
    used.push({ end: begin + label(frame, text, begin, at, colour), at });
  }
};

/** Where a signal normally lies, where it acts, and where it may never be. */
export const paintBands = (frame: Frame): void => {
  const bands = placed(frame);
  clipped(frame, () => {
    for (const band of bands) paintBand(frame, band);
  });
};

/** Over the lines, so that they stay legible. */
export const paintBandNames = (frame: Frame): void => clipped(frame, () => paintNames(frame, placed(frame)));
