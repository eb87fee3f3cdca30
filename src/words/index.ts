/**
 * The words: sentences for codes, and numbers, intervals and times as text, the same on every machine.
 *
 * Times after RFC 3339 in UTC; intervals are rounded outward, so that no printed bound promises more than was
 * measured (the sense of JCGM 106: the doubt of a result belongs to the result). No locale is consulted.
 * Proved by tests/rooms/words, which compares the catalogue with the codes in use, both ways.
 */
export { CATALOGUE, LANGUAGES, type Language } from './catalogue.ts';
export { formatBand, formatInterval, formatNumber, formatSeconds, formatTime, unitShown } from './number.ts';
export { ROLES, roleText } from './roles.ts';
export { TERMS, type Terms } from './terms.ts';
export { type TextContext, text } from './text.ts';
