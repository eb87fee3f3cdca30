import { baseline, lineHeight } from './blocks.ts';
import { INK } from './paper.ts';
import type { Press } from './press.ts';

const LABEL = 6.8;

/** A row of boxes to write in, each with its words in the upper left corner; `shares`: how the width is parted. */
export const boxes = (
  press: Press,
  labels: readonly string[],
  height: number,
  shares: readonly number[] = labels.map(() => 1),
): void => {
  press.room(height);
  const all = shares.reduce((sum, one) => sum + one, 0);
  let x = press.left;
  labels.forEach((label, index) => {
    const width = ((shares[index] ?? 1) / all) * press.width;
    press.ornament(() => {
      press.doc.rect(x, press.y, width, height).undash().lineWidth(0.7).strokeColor(INK.ink).stroke();
    });
    press.tagged('P', () => {
      press.lines(label, width - 6, { size: LABEL }).forEach((line, at) => {
        press.put(line, x + 3, press.y + 1.5 + at * lineHeight(LABEL) + baseline(LABEL), {
          size: LABEL,
          colour: INK.soft,
        });
      });
    });
    x += width;
  });
  press.y += height;
};

export interface GridColumn {
  readonly title: string;
  readonly share: number;
}

/** A table with frames: cells are texts, or blank to write in. Rows are high enough for a pen (7 mm; common practice). */
export const grid = (
  press: Press,
  columns: readonly GridColumn[],
  rows: readonly (readonly string[])[],
  least = 20,
): void => {
  const size = 7.6;
  const all = columns.reduce((sum, { share }) => sum + share, 0);
  const widths = columns.map(({ share }) => (share / all) * press.width);
  const row = (cells: readonly string[], high: number, head: boolean): void => {
    const face = head ? 'bold' : 'plain';
    const lines = columns.map((_, at) => press.lines(cells[at] ?? '', (widths[at] ?? 0) - 7, { size, face }));
    const height = Math.max(high, Math.max(...lines.map((one) => one.length)) * lineHeight(size) + 4);
    if (press.room(height) && !head) titles();
    press.enter('TR');
    let x = press.left;
    columns.forEach((_, at) => {
      const width = widths[at] ?? 0;
      press.ornament(() => {
        press.doc.rect(x, press.y, width, height).undash().lineWidth(0.7).strokeColor(INK.ink).stroke();
      });
      press.tagged(head ? 'TH' : 'TD', () => {
        (lines[at] ?? []).forEach((line, index) => {
          press.put(line, x + 3.5, press.y + 2 + index * lineHeight(size) + baseline(size), { size, face });
        });
      });
      x += width;
    });
    press.leave();
    press.y += height;
  };
  const titles = (): void =>
    row(
      columns.map(({ title }) => title),
      13,
      true,
    );
  press.enter('Table');
  press.room(least * 2);
  titles();
  for (const cells of rows) row(cells, least, false);
  press.leave();
  press.y += 3;
};
