import { INK } from './paper.ts';
import type { Press } from './press.ts';
import { type Place, runsOf } from './svg-path.ts';
import { type Node, readSvg } from './svg-read.ts';
import { HATCHES, type Hatch, type Paint, paintOf } from './svg-style.ts';

/** Plots are drawn for a screen; on paper their letters are set larger in the same places. */
const LETTERS = 1.22;
const STEP = 6;

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

const of = (node: Node, name: string): number => Number(node.attributes[name] ?? 0);

const boxOf = (points: readonly Place[]): Box => {
  const xs = points.map((one) => one.x);
  const ys = points.map((one) => one.y);
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  return { x: left, y: top, width: Math.max(...xs) - left, height: Math.max(...ys) - top };
};

/** Hatches a path that lies in `box`. All lines start from the drawing's corner, so that those of neighbours meet. */
const hatch = ({ doc }: Press, box: Box, { ground, line, width, slope }: Hatch, path: () => void): void => {
  const top = slope * box.y;
  const bottom = slope * (box.y + box.height);
  const step = slope === 0 ? STEP : STEP * Math.SQRT2;
  const first = Math.floor((box.x + Math.min(top, bottom)) / step) * step;
  const last = box.x + box.width + Math.max(top, bottom) + step;
  doc.save();
  path();
  doc.clip();
  if (ground !== undefined) doc.rect(box.x, box.y, box.width, box.height).fill(ground);
  for (let at = first; at <= last; at += step)
    doc.moveTo(at - top, box.y).lineTo(at - bottom, box.y + box.height);
  doc.undash().lineWidth(width).strokeColor(line).stroke();
  doc.restore();
};

const strokeOf = ({ doc }: Press, { dash, width = 1, stroke = INK.ink }: Paint): void => {
  if (dash) doc.dash(dash[0], { space: dash[1] });
  else doc.undash();
  doc.lineWidth(width).strokeColor(stroke).lineJoin('round').stroke();
};

const paintPath = (press: Press, paint: Paint, path: () => void): void => {
  const { doc } = press;
  if (paint.fill !== undefined) {
    path();
    doc
      .fillOpacity(paint.fillOpacity ?? 1)
      .fillColor(paint.fill)
      .fill();
    doc.fillOpacity(1);
  }
  if (paint.stroke !== undefined) {
    path();
    strokeOf(press, paint);
  }
};

const filled = (press: Press, node: Node, box: Box, path: () => void): void => {
  const pattern = /^url\(#.*-([a-z]+)\)$/.exec(node.attributes['fill'] ?? '')?.[1];
  const known = pattern === undefined ? undefined : HATCHES[pattern];
  if (known !== undefined && box.width > 0 && box.height > 0) hatch(press, box, known, path);
  paintPath(press, paintOf(node.attributes['class'] ?? ''), path);
};

const drawRect = (press: Press, node: Node): void => {
  const box = { x: of(node, 'x'), y: of(node, 'y'), width: of(node, 'width'), height: of(node, 'height') };
  filled(press, node, box, () => void press.doc.rect(box.x, box.y, box.width, box.height));
};

const drawPolygon = (press: Press, node: Node): void => {
  const points = (node.attributes['points'] ?? '').split(' ').map((pair): Place => {
    const [x = 0, y = 0] = pair.split(',').map(Number);
    return { x, y };
  });
  const [first] = points;
  if (first === undefined) return;
  filled(press, node, boxOf(points), () => {
    press.doc.moveTo(first.x, first.y);
    for (const { x, y } of points.slice(1)) press.doc.lineTo(x, y);
    press.doc.closePath();
  });
};

const drawPath = (press: Press, node: Node): void => {
  const runs = runsOf(node.attributes['d'] ?? '');
  paintPath(press, paintOf(node.attributes['class'] ?? ''), () => {
    for (const { points, closed } of runs) {
      points.forEach(({ x, y }, index) => {
        if (index === 0) press.doc.moveTo(x, y);
        else press.doc.lineTo(x, y);
      });
      if (closed) press.doc.closePath();
    }
  });
};

const drawLine = (press: Press, node: Node): void => {
  paintPath(press, paintOf(node.attributes['class'] ?? ''), () => {
    press.doc.moveTo(of(node, 'x1'), of(node, 'y1')).lineTo(of(node, 'x2'), of(node, 'y2'));
  });
};

/** Text that would leave the drawing is set smaller, never cut. */
const drawText = (press: Press, node: Node, width: number): void => {
  const { fill = INK.ink, size = 12, bold } = paintOf(node.attributes['class'] ?? '');
  const x = of(node, 'x');
  const named = node.attributes['text-anchor'];
  const anchor = named === 'end' || named === 'middle' ? named : 'start';
  const face = bold ? 'bold' : 'plain';
  const long = press.widthOf(node.text, face, size * LETTERS);
  const free = { start: width - x, middle: 2 * Math.min(x, width - x), end: x }[anchor];
  const fits = Math.min(1, free / Math.max(long, 1));
  press.put(node.text, x, of(node, 'y'), { face, size: size * LETTERS * fits, colour: fill, anchor });
};

const draw = (press: Press, node: Node, width: number): void => {
  switch (node.name) {
    case 'rect':
      drawRect(press, node);
      return;
    case 'polygon':
      drawPolygon(press, node);
      return;
    case 'path':
      drawPath(press, node);
      return;
    case 'line':
      drawLine(press, node);
      return;
    case 'text':
      drawText(press, node, width);
      return;
    case 'g':
      for (const one of node.inner) draw(press, one, width);
      return;
    case 'title':
    case 'desc':
    case 'defs':
      return;
    default:
      throw new RangeError(`A drawing has the element <${node.name}>, which nobody draws on paper.`);
  }
};

const altOf = (node: Node): string =>
  node.attributes['aria-label'] ?? node.inner.find(({ name }) => name === 'desc')?.text ?? '';

/** Draws a plot as vectors, so wide, at the cursor; on a new page where there is no room. */
export const drawSvg = (press: Press, svg: string, wide: number): void => {
  const node = readSvg(svg);
  const [, , width = 1, height = 1] = (node.attributes['viewBox'] ?? '').split(' ').map(Number);
  const scale = wide / width;
  press.room(height * scale + 4);
  press.tagged(
    'Figure',
    () => {
      press.doc.save();
      press.doc.translate(press.left, press.y).scale(scale);
      for (const one of node.inner) draw(press, one, width);
      press.doc.undash();
      press.doc.restore();
    },
    { alt: altOf(node) },
  );
  press.y += height * scale + 3;
};
