import type { Phrase } from '../measure/index.ts';
import { CATALOGUE } from './catalogue.ts';
import { NUMBERS } from './en/numbers.ts';
import { PHRASES } from './en/phrases.ts';
import { TERMS } from './en/terms.ts';
import type { LanguagePack } from './language.ts';
import { type Speech, sentence, wordOf } from './sentence.ts';

export interface TextContext {
  /** Unit of the cause, where the reason carries none of its own. */
  readonly unit?: string;
  /** Another language than English. */
  readonly pack?: LanguagePack;
}

const ENGLISH: Speech = { texts: CATALOGUE, phrases: PHRASES, terms: TERMS, numbers: NUMBERS };

/**
 * The sentence for a reason or a phrase. Never throws: a code that only the command line shows is told in English, an unknown
 * one with its parameters.
 */
export const text = (phrase: Phrase, { unit, pack }: TextContext = {}): string => {
  const spoken =
    pack !== undefined &&
    (Object.hasOwn(pack.texts, phrase.code) || Object.hasOwn(pack.phrases, phrase.code));
  return sentence(phrase, spoken ? pack : ENGLISH, unit);
};

/** The words of a role; a role that is free text, as old logs have it, is its own words. */
export const roleText = (role: string): string => wordOf(TERMS.roles, role);
