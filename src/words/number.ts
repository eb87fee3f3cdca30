import { formatUtc, type Instant, type Interval } from '../measure/index.ts';
import { NUMBERS } from './en/numbers.ts';
import type { NumberWords } from './language.ts';

const SHOWN: Readonly<Record<string, string>> = { degC: '°C', degF: '°F' };

/** A unit as people read it: `°C` for `degC`; where it is a word, in their language; every other unit as it is written. */
export const unitShown = (unit: string, { units }: NumberWords = NUMBERS): string =>
  SHOWN[unit] ?? (Object.hasOwn(units, unit) ? (units[unit] ?? unit) : unit);

/** `80 °C`. */
export const withUnit = (text: string, unit: string, words: NumberWords = NUMBERS): string =>
  unit === '' ? text : `${text} ${unitShown(unit, words)}`;

const TENS = [1, 10, 100, 1_000, 10_000, 100_000, 1_000_000] as const;
const MOST = 6;

/** Binary noise of a decimal number is no reason to widen an interval (81.57 × 100 is 8156.99…). */
const SLACK = 1e-9;

/** Enough decimals to show a width with two digits: 0.92 is shown in hundredths. */
const decimalsFor = (width: number): number => {
  if (!(width > 0)) return MOST;
  const found = TENS.findIndex((ten) => width * ten >= 1 - SLACK);
  return found < 0 ? MOST : Math.min(found + (width >= 10 ? 0 : 1), MOST);
};

const plain = (value: number, decimals: number): string => {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
};

/** What was written with a point, as a language writes it. */
const written = (text: string, { decimal }: NumberWords): string =>
  decimal === '.' ? text : text.replace('.', decimal);

const pointed = (value: number): string => {
  if (!Number.isFinite(value)) return value > 0 ? '∞' : '-∞';
  if (Math.abs(value) >= 1e15) return String(value);
  const text = plain(value, MOST).replace(/0+$/, '').replace(/\.$/, '');
  return Number(text) === 0 && value !== 0 ? value.toExponential(2) : text;
};

/** `value` cut to six decimals at most, without trailing zeros; `unknown` where it is no number. */
export const formatNumber = (value: number, words: NumberWords = NUMBERS): string =>
  Number.isNaN(value) ? words.unknown : written(pointed(value), words);

/** `value` with exactly so many decimals, as a clock or an axis shows it. */
export const formatFixed = (value: number, decimals: number, words: NumberWords = NUMBERS): string =>
  written(plain(value, decimals), words);

const roundedDown = (value: number, decimals: number): string => {
  const ten = TENS[decimals] ?? 1;
  const scaled = value * ten;
  return plain(Math.floor(scaled + SLACK * Math.max(1, Math.abs(scaled))) / ten, decimals);
};

/** Rounding up is rounding down on the other side of zero. */
const roundedUp = (value: number, decimals: number): string => {
  const text = roundedDown(-value, decimals);
  if (Number(text) === 0) return text;
  return text.startsWith('-') ? text.slice(1) : `-${text}`;
};

/** JSON has no infinity: what it stores as null is read back as no bound. */
const bounded = (value: number | null): boolean => value !== null && Number.isFinite(value);

/**
 * `81.57 … 82.49 %`: bounds rounded outward, so that what is printed never promises more than was measured.
 * One bound missing: `at least 0.8 s`; both: `not known`.
 */
export const formatInterval = (interval: Interval, unit = '', words: NumberWords = NUMBERS): string => {
  const { low, high } = interval;
  const bound = (text: string): string => withUnit(written(text, words), unit, words);
  if (!bounded(low) && !bounded(high)) return words.notKnown;
  if (!bounded(low)) return `${words.atMost} ${bound(roundedUp(high, 3))}`;
  if (!bounded(high)) return `${words.atLeast} ${bound(roundedDown(low, 3))}`;
  if (low === high) return withUnit(formatNumber(low, words), unit, words);
  const decimals = decimalsFor(high - low);
  return `${written(roundedDown(low, decimals), words)} … ${bound(roundedUp(high, decimals))}`;
};

const shortened = (value: number, decimals: number): string =>
  decimals === 0 ? plain(value, 0) : plain(value, decimals).replace(/0+$/, '').replace(/\.$/, '');

/** A declared band: its bounds as they were written, to a hundredth of its width at least, never widened. */
export const formatBand = (band: Interval, unit = '', words: NumberWords = NUMBERS): string => {
  if (!bounded(band.low) || !bounded(band.high)) return formatInterval(band, unit, words);
  if (band.low === band.high) return withUnit(formatNumber(band.low, words), unit, words);
  const decimals = Math.min(MOST, decimalsFor(band.high - band.low) + 1);
  const [low, high] = [shortened(band.low, decimals), shortened(band.high, decimals)];
  return `${written(low, words)} … ${withUnit(written(high, words), unit, words)}`;
};

/** A length of time given in seconds: `0.85 s`, `2 min 5 s`, `1 h 3 min 20 s`. */
export const formatSeconds = (seconds: number, words: NumberWords = NUMBERS): string => {
  if (!Number.isFinite(seconds) || Math.abs(seconds) < 120) return `${formatNumber(seconds, words)} s`;
  const whole = Math.round(Math.abs(seconds));
  const hours = Math.floor(whole / 3_600);
  const minutes = Math.floor(whole / 60) % 60;
  const parts = [
    ...(hours > 0 ? [`${hours} h`] : []),
    ...(minutes > 0 ? [`${minutes} min`] : []),
    ...(whole % 60 > 0 ? [`${whole % 60} s`] : []),
  ];
  return `${seconds < 0 ? '-' : ''}${parts.join(' ')}`;
};

/** `2026-11-25 09:30:00.250 UTC`, cut to milliseconds. */
export const formatTime = (at: Instant): string => {
  const text = formatUtc(at);
  return `${text.slice(0, 10)} ${text.slice(11, 23)} UTC`;
};

/** A probability that was rounded to four decimals: never told as certain, and never as impossible. */
export const formatChance = (share: number, words: NumberWords): string => {
  if (share < 0.0001) return `${words.atMost} ${written('0.01', words)} %`;
  return share <= 0.9999
    ? `${written((share * 100).toFixed(2), words)} %`
    : `${words.atLeast} ${written('99.99', words)} %`;
};
