export const COLUMNS = 80;

/** Control characters in names could repaint a terminal; they are shown as a mark instead. */
export const clean = (text: string): string => text.replace(/[\p{Cc}\p{Cf}]/gu, '\ufffd');

/** `text` behind `first`, broken at spaces into lines of 80 columns; what is left over hangs behind `next`. */
export const hung = (text: string, first: string, next = ' '.repeat(first.length)): string[] => {
  const width = COLUMNS - Math.max(first.length, next.length);
  const lines: string[] = [];
  let line = '';
  for (const word of clean(text).split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && longer.length > width) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return [...lines, line].map((one, index) => `${index === 0 ? first : next}${one}`);
};

/** Parts that must not be broken, side by side in lines of 80 columns. */
export const packed = (parts: readonly string[], first: string, gap = '   '): string[] => {
  const next = ' '.repeat(first.length);
  const lines: string[] = [];
  for (const part of parts.map(clean)) {
    const last = lines.at(-1);
    if (last === undefined) lines.push(`${first}${part}`);
    else if (last.length + gap.length + part.length > COLUMNS) lines.push(`${next}${part}`);
    else lines[lines.length - 1] = `${last}${gap}${part}`;
  }
  return lines;
};
