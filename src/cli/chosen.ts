import type { Book, Interlock } from '../rulebook/index.ts';
import { EXIT, Stop } from './io.ts';

/** The interlocks of these names, all of them where none is named; ends with the names that there are. */
export const chosenInterlocks = (book: Book, names: readonly string[]): readonly Interlock[] => {
  if (names.length === 0) return book.interlocks;
  return names.map((name) => {
    const found = book.interlocks.find((one) => one.name === name);
    if (found === undefined) {
      throw new Stop(
        `there is no interlock "${name}"; there are: ${book.interlocks.map((one) => one.name).join(', ')}`,
        { exit: EXIT.usage },
      );
    }
    return found;
  });
};
