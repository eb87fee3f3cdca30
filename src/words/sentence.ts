import type { Instant, Interval, Param, Phrase } from '../measure/index.ts';
import type { NumberWords, Terms } from './language.ts';
import {
  formatBand,
  formatChance,
  formatFixed,
  formatInterval,
  formatNumber,
  formatSeconds,
  formatTime,
  unitShown,
  withUnit,
} from './number.ts';

/** What a sentence is made from: texts and phrases by code as `en/texts` says they are written, terms, and numbers. */
export interface Speech {
  readonly texts: Readonly<Record<string, string>>;
  readonly phrases: Readonly<Record<string, string>>;
  readonly terms: Terms;
  readonly numbers: NumberWords;
}

type Value = Phrase['params'][string];

const isInterval = (value: Value): value is Interval =>
  typeof value === 'object' && !Array.isArray(value) && 'low' in value;

const isPhrase = (value: Value): value is Phrase =>
  typeof value === 'object' && !Array.isArray(value) && 'code' in value;

const isPhrases = (value: Value): value is readonly Phrase[] =>
  Array.isArray(value) && value.length > 0 && typeof value[0] === 'object';

const plainParam = (value: Param, words: NumberWords): string => {
  if (typeof value === 'number') return formatNumber(value, words);
  if (isInterval(value)) return formatInterval(value, '', words);
  return typeof value === 'string' ? value : value.join(', ');
};

const asInterval = (value: Param, unit: string, band: boolean, words: NumberWords): string => {
  if (isInterval(value)) return band ? formatBand(value, unit, words) : formatInterval(value, unit, words);
  return typeof value === 'number'
    ? formatInterval({ low: value, high: value }, unit, words)
    : plainParam(value, words);
};

const rateDigits = (value: number, words: NumberWords): string => {
  const text = formatInterval({ low: value, high: value + Math.abs(value) }, '', words);
  return text.slice(0, text.indexOf(' '));
};

/** Five digits after the point at most: binary noise is no figure. */
const short = (value: number, words: NumberWords): string =>
  formatNumber(Math.round(value * 1e5) / 1e5, words);

/** A difference of degrees Celsius is told in kelvin, so that nobody takes it for a temperature. */
export const stepUnit = (unit: string): string => (unit === 'degC' ? 'K' : unit);

/** Kinds that show a number in their own way; anything else is shown as it is. */
const NUMBERED: Readonly<Record<string, (value: number, unit: string, words: NumberWords) => string>> = {
  seconds: (value, _, words) => formatSeconds(value, words),
  share: (value, _, words) => `${formatNumber(Math.round(value * 1e5) / 1e3, words)} %`,
  rate: (value, unit, words) => `${rateDigits(value, words)} ${unitShown(unit, words)}/s`,
  chance: (value, _, words) => formatChance(value, words),
  day: (value) => formatTime(value as Instant).slice(0, 10),
  short: (value, _, words) => short(value, words),
  'short-unit': (value, unit, words) => withUnit(short(value, words), unit, words),
  conformance: (value, _, words) => `${short(value * 100, words)} %`,
  fixed: (value, _, words) => formatFixed(value, 3, words),
};

/** Kinds that show an interval, or one bound of it as it stands in the interval; a number is an interval without width. */
const MEASURED: Readonly<Record<string, (value: Param, unit: string, words: NumberWords) => string>> = {
  unit: (value, unit, words) => asInterval(value, unit, false, words),
  band: (value, unit, words) => asInterval(value, unit, true, words),
  s: (value, _, words) => asInterval(value, 's', false, words),
  'band-s': (value, _, words) => asInterval(value, 's', true, words),
  step: (value, unit, words) => asInterval(value, stepUnit(unit), false, words),
  percent: (value, _, words) => asInterval(value, '%', false, words),
  low: (value, _, words) => asInterval(value, '', false, words).split(' … ')[0] ?? '',
  high: (value, _, words) => asInterval(value, '', false, words).split(' … ').at(-1) ?? '',
};

/** Kinds that show a code, or several, by the words of a list. */
const LISTED: Readonly<Record<string, keyof Terms>> = {
  segment: 'segments',
  method: 'methods',
  absence: 'absences',
  attestation: 'attestations',
  restoration: 'restorations',
  outcome: 'outcomes',
  role: 'roles',
  'account-role': 'account-roles',
  meaning: 'meanings',
  window: 'windows',
  return: 'returns',
  item: 'items',
  field: 'fields',
  naming: 'namings',
};

/** The word for a code of a list; a code that is none of it is its own word. */
export const wordOf = (list: Readonly<Record<string, string>>, code: string): string =>
  Object.hasOwn(list, code) ? (list[code] ?? code) : code;

/** Several phrases in a row. */
const joined = (texts: readonly string[], kind: string, { and }: NumberWords): string => {
  if (kind === 'and' && texts.length > 1)
    return `${texts.slice(0, -1).join(', ')} ${and} ${texts.at(-1) ?? ''}`;
  if (kind === 'all') return texts.join(` ${and} `);
  if (kind === 'group') return texts.map((one) => `(${one})`).join(', ');
  if (kind === 'unended') return texts.map((one) => one.replace(/\.$/, '')).join('; ');
  return texts.join(kind === 'semicolons' ? '; ' : ', ');
};

/** One parameter as the template asks for it; without a kind, as it is. */
const show = (value: Value, kind: string, unit: string, speech: Speech): string => {
  const { terms, numbers } = speech;
  if (isPhrases(value)) {
    const texts = value.map((one) => spoken(one, speech, unit));
    return joined(texts, kind, numbers);
  }
  if (isPhrase(value)) return spoken(value, speech, unit);
  const plain = value as Param;
  const measured = MEASURED[kind];
  if (measured !== undefined) return measured(plain, unit, numbers);
  const list = LISTED[kind];
  if (list !== undefined && typeof plain === 'string') return wordOf(terms[list], plain);
  if (list !== undefined && Array.isArray(plain))
    return plain.map((code: string) => wordOf(terms[list], code)).join(', ');
  if (Array.isArray(plain)) return joined(plain, kind, numbers);
  // Where a reason has travelled, its times are UTC texts.
  if (kind === 'day' && typeof plain === 'string') return plain.slice(0, 10);
  const numbered = NUMBERED[kind];
  return numbered !== undefined && typeof plain === 'number'
    ? numbered(plain, unit, numbers)
    : plainParam(plain, numbers);
};

const HOLE = /\{([A-Za-z]+)(?::([a-z-]+))?\}/g;
const OPTIONAL = /\[(?:~([A-Za-z]+)\|)?([^\]]*)\]/g;
const FORMS = /\{([A-Za-z]+)\|([^|}]*)\|([^}]*)\}/g;

const given = (value: Value | undefined | null): value is Value =>
  value !== undefined && value !== null && value !== '' && value !== 0;

/** A chance of 0 says something; any other 0 is a value that nobody has. */
const counts = (part: string, value: Value | undefined | null): boolean =>
  value === 0 && /:(chance|conformance)\}/.test(part);

/** A code that has no text is shown with its parameters: nothing is hidden because a word is missing. */
const bare = (phrase: Phrase, speech: Speech): string => {
  const params = Object.entries(phrase.params ?? {}).map(([name, value]) =>
    value === null || value === undefined ? name : `${name} ${show(value, '', '', speech)}`,
  );
  return params.length === 0 ? phrase.code : `${phrase.code} (${params.join(', ')})`;
};

/** Whether so many are told of as of one. */
const isSingular = (count: number, { singular }: NumberWords): boolean =>
  singular === 'one' ? count === 1 : Math.abs(count) < 2;

/** `{n|day|days}`: the first form of one, the second of several. */
export const inForms = (template: string, countOf: (name: string) => unknown, numbers: NumberWords): string =>
  template.replace(FORMS, (_, name: string, one: string, several: string) => {
    const count = countOf(name);
    return typeof count === 'number' && isSingular(count, numbers) ? one : several;
  });

const templateOf = ({ texts, phrases }: Speech, code: string): string | undefined => {
  if (Object.hasOwn(texts, code)) return texts[code];
  return Object.hasOwn(phrases, code) ? phrases[code] : undefined;
};

const spoken = (phrase: Phrase, speech: Speech, unit: string): string => {
  const { numbers } = speech;
  const template = templateOf(speech, phrase.code);
  if (template === undefined) return bare(phrase, speech);
  const params = phrase.params ?? {};
  const own = params['unit'];
  const shownUnit = typeof own === 'string' ? own : unit;
  const names = (part: string): string[] => [...part.matchAll(HOLE)].map((found) => found[1] ?? '');
  const kept = template.replace(OPTIONAL, (_, without: string | undefined, part: string) => {
    if (without !== undefined) return params[without] === undefined ? part : '';
    return names(part).every((name) => given(params[name]) || counts(part, params[name])) ? part : '';
  });
  const formed = inForms(kept, (name) => params[name], numbers);
  return formed.replace(HOLE, (_, name: string, kind: string | undefined) => {
    const value = params[name];
    return value === undefined || value === null
      ? numbers.notKnown
      : show(value, kind ?? '', shownUnit, speech);
  });
};

/**
 * The sentence for a reason or a phrase; `unit`: of the cause, where it carries none of its own. Never throws: an unknown code
 * is shown with its parameters.
 */
export const sentence = (phrase: Phrase, speech: Speech, unit = ''): string => spoken(phrase, speech, unit);
