/** English: what the other languages are held against. */
import type { LanguagePack } from '../language.ts';
import { NUMBERS } from './numbers.ts';
import { PHRASES } from './phrases.ts';
import { TERMS } from './terms.ts';
import { TEXTS } from './texts.ts';

export const EN: LanguagePack = {
  language: 'en',
  texts: TEXTS,
  phrases: PHRASES,
  terms: TERMS,
  numbers: NUMBERS,
};
