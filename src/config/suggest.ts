/** Letters to insert, drop, change or swap with their neighbour to get from one word to the other. */
const distance = (from: string, to: string): number => {
  const width = to.length + 1;
  const cost = new Array<number>((from.length + 1) * width).fill(0);
  const at = (row: number, column: number): number => cost[row * width + column] ?? 0;
  for (let row = 0; row <= from.length; row += 1) {
    for (let column = 0; column <= to.length; column += 1) {
      if (row === 0 || column === 0) {
        cost[row * width + column] = row + column;
        continue;
      }
      const same = from[row - 1] === to[column - 1] ? 0 : 1;
      let least = Math.min(at(row - 1, column) + 1, at(row, column - 1) + 1, at(row - 1, column - 1) + same);
      const swapped =
        row > 1 && column > 1 && from[row - 1] === to[column - 2] && from[row - 2] === to[column - 1];
      if (swapped) least = Math.min(least, at(row - 2, column - 2) + 1);
      cost[row * width + column] = least;
    }
  }
  return at(from.length, to.length);
};

const plain = (word: string): string => word.toLowerCase().replaceAll('_', '-');

/** The known word that was probably meant; undefined where none is near (a third of its letters, at least one). */
export const nearest = (word: string, known: Iterable<string>): string | undefined => {
  let best: string | undefined;
  let least = Math.max(1, Math.floor(word.length / 3)) + 1;
  for (const candidate of known) {
    const far = distance(plain(word), plain(candidate));
    if (far < least) {
      least = far;
      best = candidate;
    }
  }
  return best;
};
