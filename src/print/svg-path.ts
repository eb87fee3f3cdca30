export interface Place {
  readonly x: number;
  readonly y: number;
}

/** A run of straight lines; `closed`: back to its first point. */
export interface Run {
  readonly points: readonly Place[];
  readonly closed: boolean;
}

const LETTERS = { M: 2, m: 2, L: 2, l: 2, H: 1, h: 1, V: 1, v: 1, Z: 0, z: 0 } as const;
type Letter = keyof typeof LETTERS;

const isLetter = (text: string): text is Letter => text in LETTERS;

const moved = (letter: Letter, from: Place, [first = 0, second = 0]: readonly number[]): Place => {
  switch (letter) {
    case 'h':
      return { x: from.x + first, y: from.y };
    case 'H':
      return { x: first, y: from.y };
    case 'v':
      return { x: from.x, y: from.y + first };
    case 'V':
      return { x: from.x, y: first };
    case 'm':
    case 'l':
      return { x: from.x + first, y: from.y + second };
    default:
      return { x: first, y: second };
  }
};

/** Straight lines of a path's `d`. Throws on curves: the plots have none. */
export const runsOf = (d: string): readonly Run[] => {
  const runs: { points: Place[]; closed: boolean }[] = [];
  let at: Place = { x: 0, y: 0 };
  for (const [, letter = '', rest = ''] of d.matchAll(/([a-zA-Z])([^a-zA-Z]*)/g)) {
    if (!isLetter(letter)) throw new RangeError(`A path of a drawing has the command ${letter}: ${d}`);
    const last = runs.at(-1);
    if (letter === 'z' || letter === 'Z') {
      if (last) last.closed = true;
      continue;
    }
    const numbers = (rest.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);
    const each = LETTERS[letter];
    for (let index = 0; index < numbers.length; index += each) {
      at = moved(letter, at, numbers.slice(index, index + each));
      // After the first pair of a move, further pairs are lines (SVG 1.1, 8.3.2).
      if ((letter === 'M' || letter === 'm') && index === 0) runs.push({ points: [at], closed: false });
      else runs.at(-1)?.points.push(at);
    }
  }
  return runs;
};
