/**
 * The words: sentences for codes, and numbers, intervals and times as text, the same on every machine.
 *
 * Times after RFC 3339 in UTC; intervals are rounded outward, so that no printed bound promises more than was
 * measured (the sense of JCGM 106: the doubt of a result belongs to the result). No locale is consulted.
 * English stands here. Every language is a door of its own (`en/index.ts` and so on), so that a page loads one alone:
 * `sentence(reason, pack)` needs nothing else, `text` falls back to English.
 * Proved by tests/rooms/words, which compares the catalogue with the codes in use and the languages with each other.
 */
export { CATALOGUE } from './catalogue.ts';
export { TERMS } from './en/terms.ts';
export {
  type Code,
  LANGUAGE_NAMES,
  LANGUAGES,
  type Language,
  type LanguagePack,
  type NumberWords,
  type PhraseCode,
  type Terms,
} from './language.ts';
export {
  formatBand,
  formatFixed,
  formatInterval,
  formatNumber,
  formatSeconds,
  formatTime,
  unitShown,
} from './number.ts';
export { PRACTICE, ruleBehind } from './rules.ts';
export { inForms, sentence, stepUnit, wordOf } from './sentence.ts';
export { roleText, type TextContext, text } from './text.ts';
