import type { Instant, Interval, Param, Reason } from '../measure/index.ts';
import type { NumberWords, Terms } from './language.ts';
import {
  formatBand,
  formatChance,
  formatInterval,
  formatNumber,
  formatSeconds,
  formatTime,
  unitShown,
} from './number.ts';

/** What a sentence is made from: texts by code as `en/texts` says they are written, terms, and numbers. */
export interface Speech {
  readonly texts: Readonly<Record<string, string>>;
  readonly terms: Terms;
  readonly numbers: NumberWords;
}

const isInterval = (value: Param): value is Interval =>
  typeof value === 'object' && !Array.isArray(value) && 'low' in value;

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

/** Kinds that show a number in their own way; anything else is shown as it is. */
const NUMBERED: Readonly<Record<string, (value: number, unit: string, words: NumberWords) => string>> = {
  seconds: (value, _, words) => formatSeconds(value, words),
  share: (value, _, words) => `${formatNumber(Math.round(value * 1e5) / 1e3, words)} %`,
  rate: (value, unit, words) => `${rateDigits(value, words)} ${unitShown(unit)}/s`,
  chance: (value, _, words) => formatChance(value, words),
  day: (value) => formatTime(value as Instant).slice(0, 10),
};

/** Kinds that show a code, or several, by the words of a list. */
const LISTED: Readonly<Record<string, keyof Terms>> = {
  segment: 'segments',
  method: 'methods',
  absence: 'absences',
  attestation: 'attestations',
  restoration: 'restorations',
  role: 'roles',
  'account-role': 'account-roles',
  meaning: 'meanings',
  window: 'windows',
  return: 'returns',
  item: 'items',
};

/** The word for a code of a list; a code that is none of it is its own word. */
export const wordOf = (list: Readonly<Record<string, string>>, code: string): string =>
  Object.hasOwn(list, code) ? (list[code] ?? code) : code;

/** One parameter as the template asks for it; without a kind, as it is. */
const show = (value: Param, kind: string, unit: string, { terms, numbers }: Speech): string => {
  if (kind === 'unit' || kind === 'band') return asInterval(value, unit, kind === 'band', numbers);
  if (kind === 's' || kind === 'band-s') return asInterval(value, 's', kind === 'band-s', numbers);
  const list = LISTED[kind];
  if (list !== undefined && typeof value === 'string') return wordOf(terms[list], value);
  if (list !== undefined && Array.isArray(value))
    return value.map((code: string) => wordOf(terms[list], code)).join(', ');
  // Where a reason has travelled, its times are UTC texts.
  if (kind === 'day' && typeof value === 'string') return value.slice(0, 10);
  const numbered = NUMBERED[kind];
  return numbered !== undefined && typeof value === 'number'
    ? numbered(value, unit, numbers)
    : plainParam(value, numbers);
};

const HOLE = /\{([A-Za-z]+)(?::([a-z-]+))?\}/g;
const OPTIONAL = /\[(?:~([A-Za-z]+)\|)?([^\]]*)\]/g;

const given = (value: Param | undefined | null): value is Param =>
  value !== undefined && value !== null && value !== '' && value !== 0;

/** A chance of 0 says something; any other 0 is a value that nobody has. */
const counts = (part: string, value: Param | undefined | null): boolean =>
  value === 0 && part.includes(':chance}');

/** A code that has no text is shown with its parameters: nothing is hidden because a word is missing. */
const bare = (reason: Reason, numbers: NumberWords): string => {
  const params = Object.entries(reason.params ?? {}).map(([name, value]) =>
    value === null || value === undefined ? name : `${name} ${plainParam(value, numbers)}`,
  );
  return params.length === 0 ? reason.code : `${reason.code} (${params.join(', ')})`;
};

/**
 * The sentence for a reason; `unit`: of the cause, where the reason carries none of its own. Never throws: an unknown code
 * is shown with its parameters.
 */
export const sentence = (reason: Reason, speech: Speech, unit = ''): string => {
  const { texts, numbers } = speech;
  const template = Object.hasOwn(texts, reason.code) ? texts[reason.code] : undefined;
  if (template === undefined) return bare(reason, numbers);
  const params = reason.params ?? {};
  const own = params['unit'];
  const shownUnit = typeof own === 'string' ? own : unit;
  const names = (part: string): string[] => [...part.matchAll(HOLE)].map((found) => found[1] ?? '');
  const kept = template.replace(OPTIONAL, (_, without: string | undefined, part: string) => {
    if (without !== undefined) return params[without] === undefined ? part : '';
    return names(part).every((name) => given(params[name]) || counts(part, params[name])) ? part : '';
  });
  return kept.replace(HOLE, (_, name: string, kind: string | undefined) => {
    const value = params[name];
    return value === undefined || value === null
      ? numbers.notKnown
      : show(value, kind ?? '', shownUnit, speech);
  });
};
