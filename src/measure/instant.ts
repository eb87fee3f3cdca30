/** Whole microseconds since 1970-01-01T00:00:00Z. Exact in a double until the year 2255. */
export type Instant = number & { readonly unit: 'us' };

/** A length of time in whole microseconds. */
export type Micros = number;

export const SECOND: Micros = 1_000_000;
export const MILLISECOND: Micros = 1_000;

/** Rounds to the nearest microsecond; bounds are rounded outward by `spanOf`. */
export const instant = (us: number): Instant => Math.round(us) as Instant;

/** `at` moved by `by` microseconds. */
export const later = (at: Instant, by: Micros): Instant => Math.round(at + by) as Instant;

/** When something was: no earlier than `earliest`, no later than `latest`. Microseconds. */
export interface Span {
  readonly earliest: Instant;
  readonly latest: Instant;
}

/** A span whose bounds are rounded outward to whole microseconds. */
export const spanOf = (earliest: number, latest: number): Span => ({
  earliest: Math.floor(earliest) as Instant,
  latest: Math.ceil(latest) as Instant,
});

const pad = (value: number, width: number): string => String(value).padStart(width, '0');

/** Days since 1970 to a proleptic Gregorian date. Source: civil-calendar arithmetic, written here. */
const dateOfDay = (day: number): { year: number; month: number; day: number } => {
  const shifted = day + 719_468; // days since 0000-03-01
  const era = Math.floor(shifted / 146_097);
  const dayOfEra = shifted - era * 146_097;
  const yearOfEra = Math.floor(
    (dayOfEra -
      Math.floor(dayOfEra / 1_460) +
      Math.floor(dayOfEra / 36_524) -
      Math.floor(dayOfEra / 146_096)) /
      365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const marchMonth = Math.floor((5 * dayOfYear + 2) / 153);
  const month = marchMonth < 10 ? marchMonth + 3 : marchMonth - 9;
  return {
    year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    day: dayOfYear - Math.floor((153 * marchMonth + 2) / 5) + 1,
  };
};

const dayOfDate = (year: number, month: number, day: number): number => {
  const shiftedYear = month <= 2 ? year - 1 : year;
  const era = Math.floor(shiftedYear / 400);
  const yearOfEra = shiftedYear - era * 400;
  const dayOfYear = Math.floor((153 * (month > 2 ? month - 3 : month + 9) + 2) / 5) + day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return era * 146_097 + dayOfEra - 719_468;
};

/** RFC 3339 in UTC with six decimals: `2026-11-25T09:30:00.000000Z`. */
export const formatUtc = (at: Instant): string => {
  const days = Math.floor(at / 86_400_000_000);
  const rest = at - days * 86_400_000_000;
  const date = dateOfDay(days);
  const seconds = Math.floor(rest / SECOND);
  const clock = `${pad(Math.floor(seconds / 3_600), 2)}:${pad(Math.floor(seconds / 60) % 60, 2)}:${pad(seconds % 60, 2)}`;
  return `${pad(date.year, 4)}-${pad(date.month, 2)}-${pad(date.day, 2)}T${clock}.${pad(rest % SECOND, 6)}Z`;
};

const RFC3339 = /^(\d{4})-(\d{2})-(\d{2})[Tt ](\d{2}):(\d{2}):(\d{2})(?:\.(\d{1,9}))?([Zz]|[+-]\d{2}:\d{2})$/;

const monthLength = (year: number, month: number): number => {
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] ?? 0;
};

/**
 * Reads RFC 3339 (section 5.6), rounding below a microsecond; a leap second counts as the next second.
 * Undefined for anything else: a time without an offset is not a time.
 */
export const parseUtc = (text: string): Instant | undefined => {
  const found = RFC3339.exec(text);
  if (found === null) return undefined;
  const part = (index: number): number => Number(found[index] ?? '0');
  const [year, month, day, hour, minute, second] = [part(1), part(2), part(3), part(4), part(5), part(6)];
  if (month < 1 || month > 12 || day < 1 || day > monthLength(year, month)) return undefined;
  if (hour > 23 || minute > 59 || second > 60) return undefined;
  const zone = found[8] ?? 'Z';
  const offsetMinutes = /^[Zz]$/.test(zone)
    ? 0
    : (zone.startsWith('-') ? -1 : 1) * (Number(zone.slice(1, 3)) * 60 + Number(zone.slice(4, 6)));
  const micros = Math.round(Number(`0.${found[7] ?? '0'}`) * SECOND);
  const seconds =
    dayOfDate(year, month, day) * 86_400 + hour * 3_600 + (minute - offsetMinutes) * 60 + second;
  return (seconds * SECOND + micros) as Instant;
};
