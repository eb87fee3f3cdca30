import type { Reason } from '../measure/index.ts';
import { CATALOGUE } from './catalogue.ts';
import { NUMBERS } from './en/numbers.ts';
import { TERMS } from './en/terms.ts';
import type { LanguagePack } from './language.ts';
import { type Speech, sentence, wordOf } from './sentence.ts';

export interface TextContext {
  /** Unit of the cause, where the reason carries none of its own. */
  readonly unit?: string;
  /** Another language than English. */
  readonly pack?: LanguagePack;
}

const ENGLISH: Speech = { texts: CATALOGUE, terms: TERMS, numbers: NUMBERS };

/**
 * The sentence for a reason. Never throws: a code that only the command line shows is told in English, an unknown one with
 * its parameters.
 */
export const text = (reason: Reason, { unit, pack }: TextContext = {}): string =>
  sentence(reason, pack !== undefined && Object.hasOwn(pack.texts, reason.code) ? pack : ENGLISH, unit);

/** The words of a role; a role that is free text, as old logs have it, is its own words. */
export const roleText = (role: string): string => wordOf(TERMS.roles, role);
