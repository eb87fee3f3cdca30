import { Declined } from '../api/index.ts';
import type { Phrase } from '../measure/index.ts';
import { text } from '../words/index.ts';

/** Throws `Declined` with the sentence of its reason. */
export const decline = (reason: Phrase): never => {
  throw new Declined(reason, text(reason));
};
