import type { Phrase } from '../measure/index.ts';
import type { Amendment } from '../record/index.ts';

/** Something that a person said or did, `t` seconds after the opening. */
export interface NoteSaid {
  readonly t: number;
  readonly by: Phrase;
  readonly says: Phrase;
}

/** A text that was corrected says so where it stands; the old one stands among the corrections. */
export const marked = (
  shown: Phrase,
  entry: number,
  field: string,
  amendments: readonly Amendment[],
): Phrase => {
  const last = amendments.findLast((one) => one.fits && one.of === entry && one.field === `body.${field}`);
  return last === undefined ? shown : { code: 'corrected', params: { text: shown, entry: last.entry } };
};

/** What a person wrote, as it is. */
export const asWritten = (written: string): Phrase => ({ code: 'as-written', params: { text: written } });
