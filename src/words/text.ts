import type { Absence, Instant, Interval, Param, Reason, Segment } from '../measure/index.ts';
import { CATALOGUE, type Language } from './catalogue.ts';
import {
  formatBand,
  formatChance,
  formatInterval,
  formatNumber,
  formatSeconds,
  formatTime,
  unitShown,
} from './number.ts';
import { TERMS } from './terms.ts';

export interface TextContext {
  /** Unit of the cause, where the reason carries none of its own. */
  readonly unit?: string;
  readonly language?: Language;
}

const isInterval = (value: Param): value is Interval =>
  typeof value === 'object' && !Array.isArray(value) && 'low' in value;

const asInterval = (value: Param, unit: string, band: boolean): string => {
  if (isInterval(value)) return band ? formatBand(value, unit) : formatInterval(value, unit);
  if (typeof value === 'number') return formatInterval({ low: value, high: value }, unit);
  return String(value);
};

const plainParam = (value: Param): string => {
  if (typeof value === 'number') return formatNumber(value);
  if (isInterval(value)) return formatInterval(value);
  return typeof value === 'string' ? value : value.join(', ');
};

const rateDigits = (value: number): string => {
  const text = formatInterval({ low: value, high: value + Math.abs(value) });
  return text.slice(0, text.indexOf(' '));
};

/** One parameter as the template asks for it; without a kind, as it is. */
const show = (value: Param, kind: string, unit: string, language: Language): string => {
  switch (kind) {
    case 'unit':
      return asInterval(value, unit, false);
    case 'band':
      return asInterval(value, unit, true);
    case 's':
      return asInterval(value, 's', false);
    case 'band-s':
      return asInterval(value, 's', true);
    case 'seconds':
      return typeof value === 'number' ? formatSeconds(value) : plainParam(value);
    case 'share':
      return typeof value === 'number'
        ? `${formatNumber(Math.round(value * 1e5) / 1e3)} %`
        : plainParam(value);
    case 'rate':
      return typeof value === 'number' ? `${rateDigits(value)} ${unitShown(unit)}/s` : plainParam(value);
    case 'chance':
      return typeof value === 'number' ? formatChance(value) : plainParam(value);
    case 'day':
      return typeof value === 'number' ? formatTime(value as Instant).slice(0, 10) : plainParam(value);
    case 'segment':
      return (Array.isArray(value) ? value : [value])
        .map((one) => TERMS[language].segments[one as Segment] ?? plainParam(one as Param))
        .join(', ');
    case 'method':
      return TERMS[language].methods[value as string] ?? plainParam(value);
    case 'absence':
      return TERMS[language].absences[value as Absence] ?? plainParam(value);
    default:
      return plainParam(value);
  }
};

const HOLE = /\{([A-Za-z]+)(?::([a-z-]+))?\}/g;
const OPTIONAL = /\[(?:~([A-Za-z]+)\|)?([^\]]*)\]/g;

const given = (value: Param | undefined | null): value is Param =>
  value !== undefined && value !== null && value !== '' && value !== 0;

/** A chance of 0 says something; any other 0 is a value that nobody has. */
const counts = (part: string, value: Param | undefined | null): boolean =>
  value === 0 && part.includes(':chance}');

/** A code that has no text is shown with its parameters: nothing is hidden because a word is missing. */
const bare = (reason: Reason): string => {
  const params = Object.entries(reason.params ?? {}).map(([name, value]) =>
    value === null || value === undefined ? name : `${name} ${plainParam(value)}`,
  );
  return params.length === 0 ? reason.code : `${reason.code} (${params.join(', ')})`;
};

/** The sentence for a reason. Never throws: an unknown code is shown with its parameters. */
export const text = (reason: Reason, context: TextContext = {}): string => {
  const language = context.language ?? 'en';
  const texts = CATALOGUE[language];
  const template = Object.hasOwn(texts, reason.code) ? texts[reason.code] : undefined;
  if (template === undefined) return bare(reason);
  const params = reason.params ?? {};
  const own = params['unit'];
  const unit = typeof own === 'string' ? own : (context.unit ?? '');
  const names = (part: string): string[] => [...part.matchAll(HOLE)].map((found) => found[1] ?? '');
  const kept = template.replace(OPTIONAL, (_, without: string | undefined, part: string) => {
    if (without !== undefined) return params[without] === undefined ? part : '';
    return names(part).every((name) => given(params[name]) || counts(part, params[name])) ? part : '';
  });
  return kept.replace(HOLE, (_, name: string, kind: string | undefined) => {
    const value = params[name];
    return value === undefined || value === null ? 'not known' : show(value, kind ?? '', unit, language);
  });
};
