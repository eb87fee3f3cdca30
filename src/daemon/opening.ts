import type { Opening } from '../store/index.ts';
import { text } from '../words/index.ts';

/** What was done when a log was opened, in words. */
export const tellOpening = (
  opening: readonly Opening[],
  tell: (level: 'info' | 'warn', text: string) => void,
): void => {
  for (const said of opening) tell(said.code === 'key-made' ? 'info' : 'warn', text(said));
};
