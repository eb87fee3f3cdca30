import { FORMULAS } from '../formulas.ts';
import { CAUSES } from './causes.ts';
import { DIFFERENCES } from './differences.ts';
import { NOTES } from './notes.ts';
import { PLACES } from './places.ts';

/**
 * Parts of sentences, by code: what a parameter holds that has words of its own. Written as `en/texts` says; none ends with
 * a full stop.
 */
export const PHRASES = {
  ...CAUSES,
  ...DIFFERENCES,
  ...FORMULAS,
  ...NOTES,
  ...PLACES,
} as const;
