import { FORMULAS } from '../formulas.ts';
import type { PhraseCode } from '../language.ts';
import { CAUSES } from './causes.ts';
import { DIFFERENCES } from './differences.ts';
import { NOTES } from './notes.ts';
import { PLACES } from './places.ts';

/** Parts of sentences, by code; written as those of `en/phrases`. */
export const PHRASES: Readonly<Record<PhraseCode, string>> = {
  ...CAUSES,
  ...DIFFERENCES,
  ...FORMULAS,
  ...NOTES,
  ...PLACES,
};
