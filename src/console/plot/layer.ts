import { createColumns, fillRows, rowsSeen } from './columns.ts';
import type { Frame, Line } from './frame.ts';
import { type Along, AT_BEGINNING, isEdged, paintLine } from './paint-line.ts';
import { placeOf, type Series, timeOf } from './series.ts';

/**
 * The lines of a panel on a sheet of their own. While time goes on, the sheet is moved along by whole pixels and only
 * what is new is painted: a picture costs as much as its new readings, however long the span and however unsteady the
 * lines. Anything else that changes has all of it painted anew.
 */
export interface Layer {
  /** Paints the lines into the picture. */
  paint(frame: Frame): void;
}

/** Device pixels beyond the right edge, for readings that are newer than the edge. */
const BEYOND = 64;

/** How much a span may waver from one picture to the next by rounding alone. */
const ROUNDING = 1e-9;

interface Drawn {
  /** Rows that were ever put and have been painted. */
  readonly rows: number;
  readonly along: Along;
}

/** What the sheet shows. */
interface Shown {
  readonly frame: Frame;
  readonly edged: readonly boolean[];
  readonly lines: readonly Drawn[];
  /** Something was newer than there is room for: it is not on the sheet. */
  readonly cut: boolean;
}

/** Rows ever put before the one with this number. */
const putBefore = (series: Series, row: number): number => series.put - series.count + row;

/** The picture's numbers on the sheet, whose upper left corner is that of the picture. */
const onSheet = (frame: Frame, ctx: CanvasRenderingContext2D): Frame => ({
  ...frame,
  ctx,
  left: 0,
  top: 0,
  x: (t) => frame.x(t) - frame.left,
  y: (value) => frame.y(value) - frame.top,
});

/** How many pixels the picture has moved on; undefined: the sheet does not show what it shows. */
const movedOn = (shown: Shown | undefined, frame: Frame, edged: readonly boolean[]): number | undefined => {
  if (shown === undefined || shown.cut) return;
  const before = shown.frame;
  const [wide, wideBefore] = [frame.to - frame.from, before.to - before.from];
  const same =
    frame.palette === before.palette &&
    frame.ratio === before.ratio &&
    frame.width === before.width &&
    frame.height === before.height &&
    frame.span.every((value, at) => value === before.span[at]) &&
    Math.abs(wide - wideBefore) < ROUNDING * wide &&
    edged.every((one, at) => one === shown.edged[at]);
  if (!same) return;
  const pixels = Math.round(((frame.from - before.from) / wide) * frame.width);
  if (pixels < 0 || pixels >= frame.width) return;
  // What was painted last of each line is still there, so that the line can go on from it.
  const goesOn = frame.lines.every(({ signal: { series } }, at) => {
    const fresh = series.put - (shown.lines[at]?.rows ?? 0);
    return fresh === 0 || fresh < series.count;
  });
  return goesOn ? pixels : undefined;
};

export const createLayer = (): Layer => {
  const sheet = document.createElement('canvas');
  const ctx = sheet.getContext('2d');
  const fresh = createColumns();
  let shown: Shown | undefined;

  /** Rows up to before `end` are on the sheet now. */
  const drawn = ({ signal: { series } }: Line, end: number, along: Along): Drawn => ({
    rows: putBefore(series, end),
    along,
  });

  const whole = (frame: Frame, edged: readonly boolean[]): readonly Drawn[] =>
    frame.lines.map((line, at) => {
      const part = { columns: line.columns, known: 0, along: AT_BEGINNING, edged: edged[at] === true };
      const along = paintLine(frame, line, part);
      return drawn(line, rowsSeen(line.signal.series, frame.from, frame.to).end, along);
    });

  const onward = (frame: Frame, { edged, lines }: Shown): readonly Drawn[] =>
    frame.lines.map((line, at) => {
      const { series } = line.signal;
      const { rows, along } = lines[at] ?? { rows: 0, along: AT_BEGINNING };
      const { end } = rowsSeen(series, frame.from, frame.to);
      const next = rows - putBefore(series, 0);
      if (end <= next) return { rows, along };
      const begin = Math.max(0, next - 2);
      let known = 0;
      for (let row = begin; row < next; row += 1) if (series.why[placeOf(series, row)] === 0) known += 1;
      fillRows(fresh, series, { begin, end });
      const part = { columns: fresh, known, along, edged: edged[at] === true };
      return drawn(line, end, paintLine(frame, line, part));
    });

  const isCut = (frame: Frame, lines: readonly Drawn[]): boolean =>
    frame.lines.some(({ signal: { series } }, at) => {
      const last = (lines[at]?.rows ?? 0) - putBefore(series, 0) - 1;
      return last >= 0 && frame.x(timeOf(series, last)) > frame.width + BEYOND;
    });

  return {
    paint(picture) {
      if (ctx === null) return;
      const { width, height } = picture;
      const edged = picture.lines.map((line) => isEdged(picture, line));
      const pixels = movedOn(shown, picture, edged);
      const frame = onSheet(picture, ctx);
      let lines: readonly Drawn[];
      if (shown === undefined || pixels === undefined) {
        // Setting its size clears it.
        sheet.width = Math.ceil(width) + BEYOND;
        sheet.height = Math.ceil(height);
        lines = whole(frame, edged);
      } else {
        if (pixels > 0) {
          ctx.globalCompositeOperation = 'copy';
          ctx.drawImage(sheet, -pixels, 0);
          ctx.globalCompositeOperation = 'source-over';
        }
        lines = onward(frame, shown);
      }
      shown = { frame: picture, edged, lines, cut: isCut(frame, lines) };
      picture.ctx.drawImage(sheet, 0, 0, width, height, picture.left, picture.top, width, height);
    },
  };
};
