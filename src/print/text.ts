/** Characters that would not print, or would turn the letters around; they are shown as a mark instead. */
const HIDDEN = /[\p{Cc}\u202a-\u202e\u2066-\u2069\ufeff]/gu;

/** Text as it may stand on paper, without line breaks. */
export const shown = (value: string): string =>
  value.replace(/\s*[\r\n\t]+\s*/g, ' ').replace(HIDDEN, '\ufffd');

/** As many letters as fit, at least one. */
const cut = (word: string, width: number, widthOf: (text: string) => number): string => {
  const letters = [...word];
  let count = letters.length;
  while (count > 1 && widthOf(letters.slice(0, count).join('')) > width) count -= 1;
  return letters.slice(0, count).join('');
};

const UNIT = /^(?:%|°C|°F|K|s|ms|min|h|rpm|ppm|Hz|mA|m\/s|V|A|mm)[.,;:)]*$/;

/** Words that belong together: the bounds of an interval, and a number with its unit. */
const groupsOf = (value: string): readonly string[] => {
  const groups: string[] = [];
  let before = '';
  for (const word of value.split(' ')) {
    const last = groups.at(-1);
    const joined = word === '…' || before === '…' || (/\d$/.test(before) && UNIT.test(word));
    if (last !== undefined && joined) groups[groups.length - 1] = `${last} ${word}`;
    else groups.push(word);
    before = word;
  }
  return groups;
};

/** Lines no wider than `width`, broken at spaces; a word that is wider than a line goes on in the next one. */
export const linesOf = (
  value: string,
  width: number,
  widthOf: (text: string) => number,
): readonly string[] => {
  const space = widthOf(' ');
  const words = groupsOf(shown(value)).flatMap((group) =>
    widthOf(group) > width ? group.split(' ') : [group],
  );
  const lines: string[] = [];
  let line = '';
  let used = 0;
  const add = (text: string, wide: number): void => {
    if (line !== '' && used + space + wide > width) {
      lines.push(line);
      line = '';
      used = 0;
    }
    used = line === '' ? wide : used + space + wide;
    line = line === '' ? text : `${line} ${text}`;
  };
  for (const word of words) {
    let rest = word;
    let wide = widthOf(rest);
    while (wide > width && [...rest].length > 1) {
      const part = cut(rest, width, widthOf);
      add(part, widthOf(part));
      rest = rest.slice(part.length);
      wide = widthOf(rest);
    }
    add(rest, wide);
  }
  return [...lines, line];
};
