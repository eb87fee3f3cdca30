import type { PHRASES } from './en/phrases.ts';
import type { TERMS } from './en/terms.ts';
import type { TEXTS } from './en/texts.ts';

/** Languages in which people are spoken to; each is a folder beside this file, with a door of its own. */
export const LANGUAGES = ['en', 'es', 'de', 'fr'] as const;
export type Language = (typeof LANGUAGES)[number];

/** The name of each language in itself. */
export const LANGUAGE_NAMES: Readonly<Record<Language, string>> = {
  en: 'English',
  es: 'Español',
  de: 'Deutsch',
  fr: 'Français',
};

/** Codes whose sentences every language has. What only the command line shows stands in `terminal`, in English. */
export type Code = keyof typeof TEXTS;

/** Codes of parts of sentences: they stand in a sentence, or follow a word of the page. */
export type PhraseCode = keyof typeof PHRASES;

/** A topic in another language: the same codes as the English one, no more and no fewer. */
export type Translation<English> = Readonly<Record<keyof English, string>>;

/** Single words by list and code; every language has the same. */
export type Terms = { readonly [List in keyof typeof TERMS]: Translation<(typeof TERMS)[List]> };

/** How a language writes numbers, and the words that can stand in place of one. */
export interface NumberWords {
  readonly decimal: '.' | ',';
  /** A number that is none. */
  readonly unknown: string;
  /** Neither bound is known, or nothing is given. */
  readonly notKnown: string;
  /** Put before the bound and its unit. */
  readonly atLeast: string;
  readonly atMost: string;
  /** Before the last of several. */
  readonly and: string;
  /** What is told of one thing is told of exactly one, or of less than two. */
  readonly singular: 'one' | 'below-two';
  /** Units that are words, by their code; every other unit is written the same in all languages. */
  readonly units: Readonly<Record<string, string>>;
}

/** All that is needed to speak one language. */
export interface LanguagePack {
  readonly language: Language;
  readonly texts: Readonly<Record<Code, string>>;
  readonly phrases: Readonly<Record<PhraseCode, string>>;
  readonly terms: Terms;
  readonly numbers: NumberWords;
}
