/** Control characters in names could repaint a terminal; they are shown as a mark instead. */
export const clean = (value: string): string => value.replace(/[\p{Cc}\p{Cf}\u2028\u2029]/gu, '\ufffd');

const widthOf = (value: string): number => [...value].length;

export const padded = (value: string, width: number): string =>
  value + ' '.repeat(Math.max(0, width - widthOf(value)));

/** Breaks at spaces, the first line at a width of its own; a word that is wider than the line is cut. */
export const wrap = (value: string, later: number, first: number = later): string[] => {
  const lines: string[] = [];
  let line = '';
  const room = (): number => (lines.length === 0 ? first : later);
  for (const word of value.split(' ')) {
    let rest = word;
    if (line !== '' && widthOf(line) + 1 + widthOf(rest) > room()) {
      lines.push(line);
      line = '';
    }
    while (widthOf(rest) > room()) {
      const width = room();
      lines.push([...rest].slice(0, width).join(''));
      rest = [...rest].slice(width).join('');
    }
    line = line === '' ? rest : `${line} ${rest}`;
  }
  return [...lines, line];
};

/** `value` behind `first`, broken at spaces; what is left over hangs behind `next`. */
export const hung = (value: string, columns: number, first: string, next: string): string[] =>
  wrap(clean(value), columns - widthOf(next), columns - widthOf(first)).map(
    (line, index) => (index === 0 ? first : next) + line,
  );

/** Parts that must not be broken, side by side in lines of `columns`. */
export const packed = (parts: readonly string[], columns: number): string[] => {
  const lines: string[] = [];
  for (const part of parts.map(clean)) {
    const last = lines.at(-1);
    if (last === undefined || widthOf(last) + 3 + widthOf(part) > columns) lines.push(part);
    else lines[lines.length - 1] = `${last}   ${part}`;
  }
  return lines;
};

/** One row of cells, two blanks between them; a cell that is too wide goes on beneath, so that nothing is cut off. */
export const rowIn = (cells: readonly string[], widths: readonly number[]): string[] => {
  const parts = cells.map((cell, index) => wrap(clean(cell), widths[index] ?? 1));
  const height = Math.max(...parts.map((lines) => lines.length));
  return Array.from({ length: height }, (_, at) =>
    parts
      .map((lines, index) => padded(lines[at] ?? '', widths[index] ?? 0))
      .join('  ')
      .trimEnd(),
  );
};
