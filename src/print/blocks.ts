import { INK } from './paper.ts';
import { BODY, type Press, type Style } from './press.ts';

/** Height of a line of that size. */
export const lineHeight = (size: number): number => size * 1.36;

/** From the top of a line to its baseline. */
export const baseline = (size: number): number => size * 1.02;

export interface ParagraphStyle extends Style {
  readonly indent?: number;
  /** What stands before the first line, in the indent. */
  readonly bullet?: string;
  readonly tag?: string;
  /** Points left free beneath. */
  readonly after?: number;
  readonly width?: number;
}

/** Text as lines, over as many pages as it needs. */
export const paragraph = (press: Press, text: string, style: ParagraphStyle = {}): void => {
  const { size = BODY, indent = 0, bullet, tag = 'P', after = 2, width = press.width } = style;
  const height = lineHeight(size);
  const lines = press.lines(text, width - indent, style);
  let from = 0;
  while (from < lines.length) {
    // Not one line alone at the foot of a page.
    press.room(Math.min(lines.length - from, 2) * height);
    const count = Math.max(1, Math.floor((press.bottom - press.y) / height + 1e-6));
    const part = lines.slice(from, from + count);
    press.tagged(tag, () => {
      if (bullet !== undefined && from === 0) press.put(bullet, press.left, press.y + baseline(size), style);
      part.forEach((line, index) => {
        press.put(line, press.left + indent, press.y + index * height + baseline(size), style);
      });
    });
    press.y += part.length * height;
    from += part.length;
  }
  press.y += after;
};

/** A heading stays with what follows it: `keep` points of it at least. */
export const heading = (press: Press, text: string, keep = 40): void => {
  const size = 7.6;
  const moved = press.room(lineHeight(size) + 8 + keep);
  if (!moved) press.y += 8;
  press.tagged('H3', () => {
    press.put(text.toUpperCase(), press.left, press.y + baseline(size), {
      face: 'bold',
      size,
      colour: INK.soft,
    });
  });
  press.y += lineHeight(size) + 2;
};

/** Sentences under each other; the first may stand out. */
export const bullets = (press: Press, texts: readonly string[], first: Style = {}): void => {
  texts.forEach((text, index) => {
    paragraph(press, text, { indent: 10, bullet: '•', tag: 'P', after: 1, ...(index === 0 ? first : {}) });
  });
};

export interface FrameStyle {
  readonly thick?: number;
  readonly face?: 'plain' | 'bold';
  readonly size?: number;
}

const FRAME = { thick: 1.4, face: 'plain', size: 8.4 } as const;

const framedLines = (press: Press, texts: readonly string[], { face, size }: Required<FrameStyle>) =>
  texts.map((one) => press.lines(one, press.width - 30, { face, size }));

const heightOf = (all: readonly (readonly string[])[], size: number): number =>
  all.reduce((sum, lines) => sum + lines.length * lineHeight(size) + 1.5, 0) + 12;

/** What `framed` will take: for a heading that must not stay behind. */
export const framedHeight = (press: Press, texts: readonly string[], style: FrameStyle = {}): number => {
  const whole = { ...FRAME, ...style };
  return heightOf(framedLines(press, texts, whole), whole.size);
};

/** Texts in a frame that is never parted by the end of a page; several get bullets. */
export const framed = (press: Press, texts: readonly string[], style: FrameStyle = {}): void => {
  const whole = { ...FRAME, ...style };
  const { thick, face, size } = whole;
  const height = lineHeight(size);
  const all = framedLines(press, texts, whole);
  const high = heightOf(all, size);
  press.room(high + 4);
  const top = press.y;
  press.ornament(() => {
    press.doc
      .rect(press.left, top, press.width, high)
      .undash()
      .lineWidth(thick)
      .strokeColor(INK.ink)
      .stroke();
  });
  press.y += 6;
  for (const lines of all) {
    press.tagged('P', () => {
      if (texts.length > 1) press.put('•', press.left + 9, press.y + baseline(size), { size });
      lines.forEach((line, index) => {
        press.put(line, press.left + 20, press.y + index * height + baseline(size), { face, size });
      });
    });
    press.y += lines.length * height + 1.5;
  }
  press.y = top + high + 6;
};

export interface Column {
  readonly title: string;
  /** Share of the width. */
  readonly share: number;
}

export interface CellText {
  readonly text: string;
  readonly style?: Style;
}

type Row = readonly CellText[];

const PAD = { across: 6, above: 2.4, below: 2.4 } as const;

/** A table whose rows go over pages where they must; its head stands again on each page. */
export const table = (press: Press, columns: readonly Column[], rows: readonly Row[], size = 7.9): void => {
  const height = lineHeight(size);
  const all = columns.reduce((sum, { share }) => sum + share, 0);
  const widths = columns.map(({ share }) => (share / all) * press.width);
  const lefts = widths.map((_, at) => press.left + widths.slice(0, at).reduce((sum, one) => sum + one, 0));

  const rule = (thick: number, colour: string): void => {
    press.ornament(() => {
      press.doc
        .moveTo(press.left, press.y)
        .lineTo(press.right, press.y)
        .lineWidth(thick)
        .strokeColor(colour)
        .stroke();
    });
  };

  const cells = (
    row: Row,
    lines: readonly (readonly string[])[],
    from: number,
    count: number,
    tag: string,
  ): void => {
    press.enter('TR');
    row.forEach(({ style = {} }, at) => {
      const part = (lines[at] ?? []).slice(from, from + count);
      press.tagged(at === 0 && tag === 'TD' ? 'TH' : tag, () => {
        part.forEach((line, index) => {
          press.put(line, lefts[at] ?? press.left, press.y + PAD.above + index * height + baseline(size), {
            size,
            ...style,
          });
        });
      });
    });
    press.leave();
    press.y += PAD.above + count * height + PAD.below;
  };

  const linesOf = (row: Row): readonly (readonly string[])[] =>
    row.map(({ text, style = {} }, at) =>
      press.lines(text, (widths[at] ?? 0) - PAD.across, { size, ...style }),
    );

  const head: Row = columns.map(({ title }) => ({ text: title, style: { face: 'bold', colour: INK.soft } }));
  const drawHead = (): void => {
    const lines = linesOf(head);
    cells(head, lines, 0, Math.max(...lines.map((one) => one.length)), 'TH');
    rule(0.9, INK.ink);
  };

  press.enter('Table');
  const needed = (count: number): number => PAD.above + count * height + PAD.below;
  press.room(needed(1) * 2);
  drawHead();
  for (const row of rows) {
    const lines = linesOf(row);
    const count = Math.max(1, ...lines.map((one) => one.length));
    // A row stays whole unless it is longer than most of a page.
    const whole = needed(count) <= press.bottom / 2;
    if (press.room(whole ? needed(count) : needed(3))) drawHead();
    let from = 0;
    while (from < count) {
      const fits = Math.max(1, Math.floor((press.bottom - press.y - PAD.above - PAD.below) / height + 1e-6));
      cells(row, lines, from, Math.min(fits, count - from), 'TD');
      from += fits;
      if (from < count && press.room(needed(1) * 2)) drawHead();
    }
    rule(0.4, INK.rule);
  }
  press.leave();
  press.y += 4;
};
