import { formatUtc, type Instant, type Interval } from '../measure/index.ts';

const SHOWN: Readonly<Record<string, string>> = { degC: '°C', degF: '°F' };

/** A unit as people read it: `°C` for `degC`; every other unit as it is written. */
export const unitShown = (unit: string): string => SHOWN[unit] ?? unit;

const withUnit = (text: string, unit: string): string => (unit === '' ? text : `${text} ${unitShown(unit)}`);

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

/** `value` cut to six decimals at most, without trailing zeros; `unknown` where it is no number. */
export const formatNumber = (value: number): string => {
  if (Number.isNaN(value)) return 'unknown';
  if (!Number.isFinite(value)) return value > 0 ? '∞' : '-∞';
  if (Math.abs(value) >= 1e15) return String(value);
  const text = plain(value, MOST).replace(/0+$/, '').replace(/\.$/, '');
  return Number(text) === 0 && value !== 0 ? value.toExponential(2) : text;
};

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
export const formatInterval = (interval: Interval, unit = ''): string => {
  const { low, high } = interval;
  if (!bounded(low) && !bounded(high)) return 'not known';
  if (!bounded(low)) return withUnit(`at most ${roundedUp(high, 3)}`, unit);
  if (!bounded(high)) return withUnit(`at least ${roundedDown(low, 3)}`, unit);
  if (low === high) return withUnit(formatNumber(low), unit);
  const decimals = decimalsFor(high - low);
  return withUnit(`${roundedDown(low, decimals)} … ${roundedUp(high, decimals)}`, unit);
};

const shortened = (value: number, decimals: number): string =>
  decimals === 0 ? plain(value, 0) : plain(value, decimals).replace(/0+$/, '').replace(/\.$/, '');

/** A declared band: its bounds as they were written, to a hundredth of its width at least, never widened. */
export const formatBand = (band: Interval, unit = ''): string => {
  if (!bounded(band.low) || !bounded(band.high)) return formatInterval(band, unit);
  if (band.low === band.high) return withUnit(formatNumber(band.low), unit);
  const decimals = Math.min(MOST, decimalsFor(band.high - band.low) + 1);
  return withUnit(`${shortened(band.low, decimals)} … ${shortened(band.high, decimals)}`, unit);
};

/** A length of time given in seconds: `0.85 s`, `2 min 5 s`, `1 h 3 min 20 s`. */
export const formatSeconds = (seconds: number): string => {
  if (!Number.isFinite(seconds) || Math.abs(seconds) < 120) return `${formatNumber(seconds)} s`;
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
export const formatChance = (share: number): string => {
  if (share < 0.0001) return 'at most 0.01 %';
  return share <= 0.9999 ? `${(share * 100).toFixed(2)} %` : 'at least 99.99 %';
};
